package org.earslot.referral.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.PatientCaution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Word;
import org.earslot.page.FormVersion;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.Intake;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;

/** The referral form as typed: text, so that a wrong value is shown again as it was given. */
public final class ReferralForm {

    private final Map<String, String> values = new HashMap<>();
    private final List<String> cautions = new ArrayList<>();

    /** The form as it came in; see {@link ReferralReading} for what each field may hold. */
    static ReferralForm typed(Map<String, List<String>> given) {
        ReferralForm form = new ReferralForm();
        given.forEach((field, values) -> form.put(field, values.isEmpty() ? null : values.get(0)));
        form.cautions.addAll(given.getOrDefault("cautions", List.of()));
        return form;
    }

    /** What a field holds; empty where nothing. */
    public String get(String field) {
        return values.getOrDefault(field, "");
    }

    /** Whether a caution is answered with yes. */
    public boolean has(String caution) {
        return cautions.contains(caution);
    }

    List<String> cautions() {
        return cautions;
    }

    void put(String field, @Nullable Object value) {
        if (value != null) {
            values.put(field, value instanceof Word word ? word.code() : value.toString());
        }
    }

    /** Every field that holds something, cautions apart. */
    Map<String, String> values() {
        return Map.copyOf(values);
    }

    /** A form filled with what is known of a patient, cautions recorded earlier ticked to be confirmed. */
    static ReferralForm about(Patient patient, List<PatientCaution> earlier) {
        ReferralForm form = about(patient);
        form.remember(earlier);
        return form;
    }

    /** Ticks what was recorded earlier; of one caution in both ears, the whole patient. */
    private void remember(List<PatientCaution> earlier) {
        for (PatientCaution one : earlier) {
            String code = one.caution().code();
            if (has(code)) {
                values.remove("ear." + code);
                values.remove("method." + code);
                continue;
            }
            tick(one.asked());
        }
    }

    private void tick(AskedCaution asked) {
        String code = asked.caution().code();
        cautions.add(code);
        put("ear." + code, asked.ear());
        put("since." + code, asked.since());
        put("method." + code, asked.method());
        put("allClear." + code, asked.allClear() ? "yes" : null);
    }

    private static ReferralForm about(Patient patient) {
        ReferralForm form = new ReferralForm();
        form.put("localNumber", patient.localNumber());
        PatientDetails person = patient.details();
        form.put("familyName", person.familyName());
        form.put("nameUnknown", person.familyName() == null ? "yes" : null);
        form.put("givenName", person.givenName());
        form.put("dateOfBirth", person.dateOfBirth());
        form.put("contact", person.contact());
        form.put("contactPerson", person.contactPerson());
        form.put("contactPermission", person.contactPermission());
        form.put("preferredRoute", person.preferredRoute());
        form.put("interpreter", person.interpreter());
        form.put("mobility", person.mobility());
        form.put("consentBy", person.consentBy());
        form.put("comesWith", person.comesWith());
        form.put("hearingAid", person.hearingAid());
        return form;
    }

    /** A form filled with a referral; cautions recorded earlier are ticked as well while the list has not been read out. */
    static ReferralForm showing(Referral referral, Patient patient, List<PatientCaution> earlier) {
        ReferralForm form = about(patient);
        form.put(FormVersion.FIELD, Intake.version(referral, patient));
        ReferralDetails said = referral.details();
        form.put("referrer", said.referrer());
        form.put("receivedOn", said.receivedOn());
        form.put("reason", said.reason());
        form.put("origin", said.origin());
        form.put("shortNotice", said.shortNotice());
        form.put("priority", said.priority());
        form.put("ears", said.ears());
        form.put("method", said.methodPlanned());
        form.put("firstVisit", said.firstVisit());
        form.put("softenerDays", said.softenerDays());
        form.put("notBefore", said.notBefore());
        form.put("lastTime", said.lastTime());
        form.put("mustFollow", said.mustFollow());
        form.put("mustFollowBy", said.mustFollowBy());
        form.put("redFlag", said.redFlag());
        said.redFlags().forEach((flag, answer) -> form.put("flag." + flag.code(), answer));
        said.cautionsNotKnown().forEach(caution -> form.put("unsure." + caution.code(), "yes"));
        if (said.cautionsAsked() && said.cautions().isEmpty()) {
            form.put("noneOfThese", "yes");
        }
        said.cautions().forEach(form::tick);
        if (!said.cautionsAsked()) {
            form.remember(earlier.stream()
                    .filter(one -> !form.has(one.caution().code()))
                    .toList());
        }
        for (Ear ear : Ear.values()) {
            EarFindings reported = said.reported(ear);
            form.put(ear.code() + "Wax", reported.wax());
            form.put(ear.code() + "Canal", reported.canal());
            form.put(ear.code() + "Depth", reported.depth());
            form.put(ear.code() + "Occlusion", reported.occlusion());
        }
        return form;
    }
}
