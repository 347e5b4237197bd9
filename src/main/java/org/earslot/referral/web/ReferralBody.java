package org.earslot.referral.web;

import com.fasterxml.jackson.annotation.JsonSetter;
import com.fasterxml.jackson.annotation.Nulls;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.earslot.caution.AskedCaution;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.Word;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.Records;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.RedFlag;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;

/**
 * A referral as other programs give and get it; null or absent is "not known". A new patient needs a family name and a
 * date of birth or contact, or the program's own {@code patientRef}, or {@code nameUnknown}.
 *
 * @param patientRef the patient's local number: known here already, or the program's own for a new patient
 * @param appointments given by this program: all that the referral ever had
 * @param nameUnknown true if there is deliberately no name
 * @param redFlags each red flag that was asked: true, false, or null for asked and not known; one that is absent was not
 *     asked
 * @param cautionsAsked whether the whole list was asked; null for not known, which counts as not asked
 * @param cautionsUnknown given by this program: codes of cautions on record that this release does not know, shortened; to
 *     be clarified with the patient
 * @param redFlagsUnknown the same of red flags; a clinician decides
 */
record ReferralBody(
        @Nullable UUID id,
        @Nullable String status,
        @Nullable String patientRef,
        @Nullable String familyName,
        @Nullable String givenName,
        @Nullable String dateOfBirth,
        @Nullable String contact,
        @Nullable String postalAddress,
        @Nullable String contactPerson,
        @Nullable Boolean contactPermission,
        @Nullable String preferredRoute,
        @Nullable String interpreter,
        @Nullable String mobility,
        @Nullable String consentBy,
        @Nullable String comesWith,
        @Nullable String referrer,
        @Nullable String receivedOn,
        @Nullable String reason,
        @Nullable String priority,
        @Nullable String method,
        @Nullable List<String> ears,
        @Nullable Boolean firstVisit,
        @Nullable Boolean hearingAid,
        @Nullable Boolean cautionsAsked,
        @Nullable List<String> cautions,
        @Nullable Map<String, CautionBody> cautionDetails,
        @Nullable Integer softenerDays,
        @Nullable String notBefore,
        @Nullable String lastTime,
        @Nullable String mustFollow,
        @Nullable String mustFollowBy,
        @Nullable String redFlag,
        @Nullable ReportedBody reported,
        @JsonSetter(contentNulls = Nulls.SET) @Nullable Map<String, Boolean> redFlags,
        @Nullable List<String> cautionsNotKnown,
        @Nullable String origin,
        @Nullable Boolean shortNotice,
        @Nullable Boolean nameUnknown,
        @Nullable List<Booked> appointments,
        @Nullable List<String> cautionsUnknown,
        @Nullable List<String> redFlagsUnknown) {

    /**
     * One appointment.
     *
     * @param start clinic-local
     * @param status its code: {@code booked}, {@code cancelled} and so on
     */
    record Booked(UUID id, LocalDateTime start, String status) {

        static Booked of(ReferralAppointments.Booked one) {
            return new Booked(one.id(), one.start(), one.status());
        }
    }

    /** Which ear a caution belongs to, and since when. */
    record CautionBody(
            @Nullable String ear,
            @Nullable String since,
            @Nullable String method,
            @Nullable Boolean allClear) {}

    /** What was reported of each ear. */
    record ReportedBody(
            @Nullable EarReportBody right, @Nullable EarReportBody left) {}

    /** What was reported of one ear. */
    record EarReportBody(
            @Nullable String wax,
            @Nullable String canal,
            @Nullable String depth,
            @Nullable String occlusion) {}

    /** What the form would pass over in silence: each is a problem, so that nothing a program sends is lost. */
    void check(Form form) {
        given(form, "id", id);
        given(form, "status", status);
        given(form, "appointments", appointments);
        given(form, "cautionsUnknown", cautionsUnknown);
        given(form, "redFlagsUnknown", redFlagsUnknown);
        most(form, "ears", ears, Ear.values());
        most(form, "cautions", cautions, Caution.values());
        most(form, "cautionsNotKnown", cautionsNotKnown, Caution.values());
        if (redFlags != null) {
            redFlags.keySet().forEach(flag -> known(form, "redFlags", flag, RedFlag.values()));
        }
        List<String> yes = cautions == null ? List.of() : cautions;
        if (cautionDetails != null) {
            cautionDetails.keySet().stream()
                    .filter(caution -> known(form, "cautionDetails", caution, Caution.values()))
                    .filter(caution -> !yes.contains(caution))
                    .forEach(
                            caution -> form.problem("cautionDetails." + caution, "referral.allowed.detailsOfCautions"));
        }
        if (cautionsNotKnown != null) {
            cautionsNotKnown.stream()
                    .filter(caution -> known(form, "cautionsNotKnown", caution, Caution.values()))
                    .filter(yes::contains)
                    .forEach(caution -> form.refuse("cautionsNotKnown", caution, "referral.allowed.oneOfTheTwo"));
        }
    }

    private static void given(Form form, String field, @Nullable Object value) {
        if (value != null) {
            form.problem(field, "referral.allowed.nothing");
        }
    }

    private static void most(Form form, String field, @Nullable List<String> given, Word[] all) {
        if (given != null && given.size() > all.length) {
            form.refuse(field, String.valueOf(given.size()), "referral.allowed.elements", String.valueOf(all.length));
        }
    }

    private static boolean known(Form form, String field, String code, Word[] all) {
        boolean known = Word.find(all, code).isPresent();
        if (!known) {
            form.unknown(field, code, all);
        }
        return known;
    }

    /** The same as typed into the form, so that both are read by the same rules. */
    FormFields asForm() {
        FormFields form = new FormFields();
        form.put(this, name -> name.equals("patientRef") ? "localNumber" : name);
        form.put("ears", earsWord());
        if (!Boolean.TRUE.equals(nameUnknown)) {
            form.clear("nameUnknown");
        }
        putCautions(form);
        if (reported != null) {
            put(form, Ear.RIGHT, reported.right());
            put(form, Ear.LEFT, reported.left());
        }
        if (redFlags != null) {
            redFlags.forEach((flag, yes) -> form.put("flag." + flag, yes == null ? Answer.NOT_KNOWN : yes));
        }
        if (cautionsNotKnown != null) {
            cautionsNotKnown.forEach(caution -> form.put("unsure." + caution, "yes"));
        }
        return form;
    }

    private void putCautions(FormFields form) {
        if (cautions != null) {
            cautions.forEach(caution -> form.add("cautions", caution));
        }
        form.put("cautionsAsked", Boolean.TRUE.equals(cautionsAsked));
        if (cautionDetails != null) {
            cautionDetails.forEach((caution, more) -> {
                form.put(more, name -> name + "." + caution);
                form.put("allClear." + caution, Boolean.TRUE.equals(more.allClear()) ? "yes" : "");
            });
        }
    }

    private static void put(FormFields form, Ear ear, @Nullable EarReportBody findings) {
        if (findings != null) {
            form.put(findings, ReferralReading.fieldOf(ear));
        }
    }

    private @Nullable String earsWord() {
        if (ears == null) {
            return null;
        }
        List<String> distinct = ears.stream().distinct().sorted().toList();
        return distinct.equals(List.of("left", "right")) ? "both" : String.join(", ", distinct);
    }

    static ReferralBody of(
            Referral referral,
            Patient patient,
            List<ReferralAppointments.Booked> appointments,
            List<UnknownCode> unknownCautions) {
        PatientDetails person = patient.details();
        ReferralDetails said = referral.details();
        Map<String, @Nullable Object> values = new HashMap<>();
        for (Record part : List.of(person, said.source(), said.request())) {
            Records.values(part).forEach((name, value) -> values.put(ReferralReading.fieldOf(name), json(value)));
        }
        values.put("id", referral.id());
        values.put("status", referral.status().code());
        values.put("patientRef", patient.localNumber());
        values.put("nameUnknown", person.familyName() == null ? true : null);
        values.put("ears", said.request().ears().each().stream().map(Ear::code).toList());
        values.put(
                "reported",
                new ReportedBody(
                        findings(said.reported().right()),
                        findings(said.reported().left())));
        values.put("cautionsAsked", said.cautions().asked());
        values.put(
                "cautions",
                said.cautions().yes().stream()
                        .map(asked -> asked.caution().code())
                        .toList());
        values.put("cautionDetails", details(said.cautions().yes()));
        values.put(
                "cautionsNotKnown",
                said.cautions().notKnown().stream().map(Word::code).sorted().toList());
        values.put("redFlag", said.redFlags().words());
        values.put("redFlags", answers(said.redFlags().answers()));
        values.put("appointments", appointments.stream().map(Booked::of).toList());
        values.put("cautionsUnknown", shown(unknownCautions));
        values.put("redFlagsUnknown", shown(said.redFlags().unknown()));
        return Records.of(ReferralBody.class, values);
    }

    /** Words by their codes, an answer as true, false or null, a date as text. */
    private static @Nullable Object json(@Nullable Object value) {
        if (value instanceof Answer answer) {
            return answer == Answer.NOT_KNOWN ? null : answer == Answer.YES;
        }
        if (value instanceof Word word) {
            return word.code();
        }
        return value instanceof LocalDate date ? date.toString() : value;
    }

    private static @Nullable List<String> shown(List<UnknownCode> codes) {
        return codes.isEmpty() ? null : codes.stream().map(UnknownCode::shown).toList();
    }

    private static Map<String, @Nullable Object> answers(Map<RedFlag, Answer> redFlags) {
        Map<String, @Nullable Object> answers = new TreeMap<>();
        redFlags.forEach((flag, answer) -> answers.put(flag.code(), json(answer)));
        return answers;
    }

    private static Map<String, CautionBody> details(List<AskedCaution> cautions) {
        Map<String, CautionBody> details = new LinkedHashMap<>();
        cautions.stream()
                .filter(asked -> !asked.equals(new AskedCaution(asked.caution(), null, null)))
                .forEach(asked -> details.put(
                        asked.caution().code(),
                        new CautionBody(
                                code(asked.ear()),
                                (String) json(asked.since()),
                                code(asked.method()),
                                asked.allClear() ? true : null)));
        return details;
    }

    private static EarReportBody findings(EarFindings reported) {
        return new EarReportBody(
                code(reported.wax()), code(reported.canal()), code(reported.depth()), code(reported.occlusion()));
    }

    private static @Nullable String code(@Nullable Word word) {
        return word == null ? null : word.code();
    }
}
