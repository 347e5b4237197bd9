package org.earslot.clinic.web;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Word;
import org.earslot.page.ChangedField;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What the rows of the set-up page hold now, for a form that was filled in from an older page. */
@Component
class SetUpRows {

    private static final String YES = "yes";

    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions weekly;
    private final Policies policies;
    private final OtherVisitKinds kinds;
    private final Messages messages;

    SetUpRows(
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions weekly,
            Policies policies,
            OtherVisitKinds kinds,
            Messages messages) {
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.weekly = weekly;
        this.policies = policies;
        this.kinds = kinds;
        this.messages = messages;
    }

    /** A row: its version, and its fields as its form names them. */
    record Row(FormVersion version, Map<String, String> fields) {

        static Row of(int version, Map<String, String> fields) {
            return new Row(FormVersion.of(version), fields);
        }
    }

    /** The row that a form changes; empty for one that adds a row, or whose row is gone. */
    Optional<Row> find(ClinicId clinic, String section, Optional<UUID> id) {
        return switch (section) {
            case "clinic" -> clinics.findById(clinic).map(SetUpRows::of);
            case "contact" -> clinics.findById(clinic).map(SetUpRows::contactOf);
            case "policy" -> policies.findById(clinic).map(SetUpRows::of);
            case "practitioners" ->
                id.flatMap(one -> practitioners.findByClinicIdAndId(clinic, one))
                        .map(SetUpRows::of);
            case "rooms" ->
                id.flatMap(one -> rooms.findByClinicIdAndId(clinic, one)).map(SetUpRows::of);
            case "other-visits" ->
                id.flatMap(one -> kinds.findByClinicIdAndId(clinic, one)).map(SetUpRows::of);
            case "sessions" ->
                id.flatMap(one -> weekly.findByClinicIdAndId(clinic, one)).map(SetUpRows::of);
            default -> Optional.empty();
        };
    }

    /** Each field in which the row and what was typed differ. */
    List<ChangedField> changes(Row row, SubmittedForm typed) {
        return row.fields().entrySet().stream()
                .filter(field -> !String.join(",", typed.all(field.getKey())).equals(field.getValue()))
                .map(field -> new ChangedField(label(field.getKey()), field.getValue(), false))
                .toList();
    }

    private String label(String field) {
        return messages.find("clinic.field." + field).orElse(field);
    }

    private static Row of(Clinic clinic) {
        return Row.of(
                clinic.version(),
                Map.of("name", clinic.name(), "timeZone", clinic.zone().getId()));
    }

    private static Row contactOf(Clinic clinic) {
        ClinicContact contact = clinic.contact();
        return Row.of(
                clinic.version(),
                Map.of(
                        "phone", Objects.requireNonNullElse(contact.phone(), ""),
                        "address", Objects.requireNonNullElse(contact.address(), ""),
                        "openingHours", Objects.requireNonNullElse(contact.openingHours(), "")));
    }

    private static Row of(Practitioner one) {
        return Row.of(
                one.version(),
                Map.of(
                        "name", one.name(),
                        "hand", one.dominantHand().map(Word::code).orElse(""),
                        "methods", one.methods().stream().map(Word::code).collect(Collectors.joining(",")),
                        "leastAge", age(one.ages().least()),
                        "mostAge", age(one.ages().most()),
                        "active", one.active() ? YES : ""));
    }

    private static String age(@Nullable Integer years) {
        return years == null ? "" : years.toString();
    }

    private static Row of(Room one) {
        return Row.of(one.version(), Map.of("name", one.name(), "active", one.active() ? YES : ""));
    }

    private static Row of(OtherVisitKind one) {
        return Row.of(
                one.version(),
                Map.of(
                        "name", one.name(),
                        "minutes", String.valueOf(one.minutes()),
                        "active", one.active() ? YES : ""));
    }

    private static Row of(WeeklySession one) {
        return Row.of(
                one.version(),
                Map.of("lastDay", one.validTo().map(String::valueOf).orElse("")));
    }

    private static Row of(Policy policy) {
        PolicyTerms terms = policy.terms();
        Map<String, String> fields = new LinkedHashMap<>();
        fields.put("gridMinutes", String.valueOf(terms.gridMinutes()));
        fields.put("leastSlotMinutes", String.valueOf(terms.leastSlotMinutes()));
        fields.put("mostSlotMinutes", String.valueOf(terms.mostSlotMinutes()));
        fields.put("waitLimitMinutes", String.valueOf(terms.waitLimitMinutes()));
        fields.put("earlyAllowanceMinutes", String.valueOf(terms.earlyAllowanceMinutes()));
        fields.put("tenDaysSoonerMinutes", String.valueOf(terms.tenDaysSoonerMinutes()));
        fields.put("irrigationTurnaroundMinutes", String.valueOf(terms.irrigationTurnaroundMinutes()));
        fields.put("microsuctionTurnaroundMinutes", String.valueOf(terms.microsuctionTurnaroundMinutes()));
        fields.put("manualRemovalTurnaroundMinutes", String.valueOf(terms.manualRemovalTurnaroundMinutes()));
        fields.put("acceptedOverrunPercent", String.valueOf(Math.round(terms.acceptedOverrunShare() * 100)));
        fields.put("acceptedOvertimePercent", String.valueOf(Math.round(terms.acceptedOvertimeShare() * 100)));
        fields.put("offers", policy.offersWeighList() ? "list" : "end");
        return Row.of(policy.version(), fields);
    }
}
