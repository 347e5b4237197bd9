package org.earslot.referral.web;

import com.fasterxml.jackson.annotation.JsonSetter;
import com.fasterxml.jackson.annotation.Nulls;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.caution.AskedCaution;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
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
        @Nullable List<ReferralAppointments.Booked> appointments,
        @Nullable List<String> cautionsUnknown,
        @Nullable List<String> redFlagsUnknown) {

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
    void check(Reading reading) {
        given(reading, "id", id);
        given(reading, "status", status);
        given(reading, "appointments", appointments);
        given(reading, "cautionsUnknown", cautionsUnknown);
        given(reading, "redFlagsUnknown", redFlagsUnknown);
        most(reading, "ears", ears, Ear.values());
        most(reading, "cautions", cautions, Caution.values());
        most(reading, "cautionsNotKnown", cautionsNotKnown, Caution.values());
        if (redFlags != null) {
            redFlags.keySet().forEach(flag -> known(reading, "redFlags", flag, RedFlag::of, RedFlag.values()));
        }
        List<String> yes = cautions == null ? List.of() : cautions;
        if (cautionDetails != null) {
            cautionDetails.keySet().stream()
                    .filter(caution -> known(reading, "cautionDetails", caution, Caution::of, Caution.values()))
                    .filter(caution -> !yes.contains(caution))
                    .forEach(caution -> reading.problem(
                            "cautionDetails." + caution, "", "details of a caution in cautions", "add it to cautions"));
        }
        if (cautionsNotKnown != null) {
            cautionsNotKnown.stream()
                    .filter(caution -> known(reading, "cautionsNotKnown", caution, Caution::of, Caution.values()))
                    .filter(yes::contains)
                    .forEach(caution -> reading.problem(
                            "cautionsNotKnown", caution, "either in cautions or here", "name it in one of the two"));
        }
    }

    private static void given(Reading reading, String field, @Nullable Object value) {
        if (value != null) {
            reading.problem(field, "", "nothing: it is given by this program", "leave it out");
        }
    }

    private static void most(Reading reading, String field, @Nullable List<String> given, Word[] all) {
        if (given != null && given.size() > all.length) {
            String allowed = "at most " + all.length + " elements";
            reading.problem(field, given.size() + " elements", allowed, "name each once");
        }
    }

    private static <W extends Word> boolean known(
            Reading reading, String field, String code, Function<String, Optional<W>> find, W[] all) {
        boolean known = find.apply(code).isPresent();
        if (!known) {
            reading.problem(field, code, "one of " + String.join(", ", Word.codes(all)), "choose one of these");
        }
        return known;
    }

    /** The same as typed into the form, so that both are read by the same rules. */
    ReferralForm asForm() {
        ReferralForm form = new ReferralForm();
        form.put("localNumber", patientRef);
        form.put("familyName", familyName);
        form.put("givenName", givenName);
        form.put("dateOfBirth", dateOfBirth);
        form.put("contact", contact);
        form.put("contactPerson", contactPerson);
        form.put("contactPermission", answer(contactPermission));
        form.put("preferredRoute", preferredRoute);
        form.put("interpreter", interpreter);
        form.put("mobility", mobility);
        form.put("consentBy", consentBy);
        form.put("comesWith", comesWith);
        form.put("referrer", referrer);
        form.put("receivedOn", receivedOn);
        form.put("reason", reason);
        form.put("priority", priority);
        form.put("method", method);
        form.put("ears", earsWord());
        form.put("firstVisit", answer(firstVisit));
        form.put("hearingAid", answer(hearingAid));
        form.put("softenerDays", softenerDays);
        form.put("notBefore", notBefore);
        form.put("lastTime", lastTime);
        form.put("mustFollow", mustFollow);
        form.put("mustFollowBy", mustFollowBy);
        form.put("redFlag", redFlag);
        form.put("origin", origin);
        form.put("shortNotice", answer(shortNotice));
        form.put("nameUnknown", Boolean.TRUE.equals(nameUnknown) ? "yes" : null);
        putCautions(form);
        putReported(form);
        if (redFlags != null) {
            redFlags.forEach((flag, yes) -> form.put("flag." + flag, yes == null ? Answer.NOT_KNOWN : answer(yes)));
        }
        if (cautionsNotKnown != null) {
            cautionsNotKnown.forEach(caution -> form.put("unsure." + caution, "yes"));
        }
        return form;
    }

    private void putCautions(ReferralForm form) {
        List<String> given = cautions == null ? List.of() : cautions;
        form.cautions().addAll(given);
        form.put("cautionsAsked", Boolean.TRUE.equals(cautionsAsked) ? Answer.YES : Answer.NO);
        if (cautionDetails != null) {
            cautionDetails.forEach((caution, more) -> {
                form.put("ear." + caution, more.ear());
                form.put("since." + caution, more.since());
                form.put("method." + caution, more.method());
                form.put("allClear." + caution, Boolean.TRUE.equals(more.allClear()) ? "yes" : null);
            });
        }
    }

    private void putReported(ReferralForm form) {
        if (reported != null) {
            put(form, Ear.RIGHT, reported.right());
            put(form, Ear.LEFT, reported.left());
        }
    }

    private static void put(ReferralForm form, Ear ear, @Nullable EarReportBody findings) {
        if (findings != null) {
            form.put(ear.code() + "Wax", findings.wax());
            form.put(ear.code() + "Canal", findings.canal());
            form.put(ear.code() + "Depth", findings.depth());
            form.put(ear.code() + "Occlusion", findings.occlusion());
        }
    }

    private @Nullable String earsWord() {
        if (ears == null) {
            return null;
        }
        List<String> distinct = ears.stream().distinct().sorted().toList();
        return distinct.equals(List.of("left", "right")) ? "both" : String.join(" and ", distinct);
    }

    private static @Nullable Answer answer(@Nullable Boolean given) {
        if (given == null) {
            return null;
        }
        return given ? Answer.YES : Answer.NO;
    }

    static ReferralBody of(
            Referral referral,
            Patient patient,
            List<ReferralAppointments.Booked> appointments,
            List<UnknownCode> unknownCautions) {
        PatientDetails person = patient.details();
        ReferralDetails said = referral.details();
        return new ReferralBody(
                referral.id(),
                referral.status().code(),
                patient.localNumber(),
                person.familyName(),
                person.givenName(),
                text(person.dateOfBirth()),
                person.contact(),
                person.contactPerson(),
                yes(person.contactPermission()),
                person.preferredRoute().code(),
                person.interpreter(),
                person.mobility(),
                person.consentBy(),
                person.comesWith(),
                said.referrer(),
                text(said.receivedOn()),
                said.reason(),
                said.priority().code(),
                said.methodPlanned().code(),
                said.ears().each().stream().map(Ear::code).toList(),
                yes(said.firstVisit()),
                yes(person.hearingAid()),
                said.cautionsAsked(),
                said.cautions().stream().map(asked -> asked.caution().code()).toList(),
                details(said.cautions()),
                said.softenerDays(),
                text(said.notBefore()),
                said.lastTime(),
                said.mustFollow(),
                text(said.mustFollowBy()),
                said.redFlag(),
                new ReportedBody(findings(said.reported(Ear.RIGHT)), findings(said.reported(Ear.LEFT))),
                answers(said.redFlags()),
                said.cautionsNotKnown().stream().map(Word::code).sorted().toList(),
                said.origin().code(),
                yes(said.shortNotice()),
                person.familyName() == null ? true : null,
                appointments,
                shown(unknownCautions),
                shown(said.unknown().redFlags()));
    }

    private static @Nullable List<String> shown(List<UnknownCode> codes) {
        return codes.isEmpty() ? null : codes.stream().map(UnknownCode::shown).toList();
    }

    private static Map<String, Boolean> answers(Map<RedFlag, Answer> redFlags) {
        Map<String, Boolean> answers = new TreeMap<>();
        redFlags.forEach((flag, answer) -> answers.put(flag.code(), yes(answer)));
        return answers;
    }

    private static Map<String, CautionBody> details(List<AskedCaution> cautions) {
        Map<String, CautionBody> details = new java.util.LinkedHashMap<>();
        cautions.stream()
                .filter(asked -> !asked.equals(new AskedCaution(asked.caution(), null, null)))
                .forEach(asked -> details.put(
                        asked.caution().code(),
                        new CautionBody(
                                code(asked.ear()),
                                text(asked.since()),
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

    private static @Nullable String text(@Nullable Object value) {
        return value == null ? null : value.toString();
    }

    private static @Nullable Boolean yes(Answer answer) {
        return answer == Answer.NOT_KNOWN ? null : answer == Answer.YES;
    }
}
