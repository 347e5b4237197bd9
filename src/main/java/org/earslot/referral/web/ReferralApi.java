package org.earslot.referral.web;

import java.net.URI;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.earslot.page.Form;
import org.earslot.page.Forms;
import org.earslot.page.Refused;
import org.earslot.patient.Duplicates;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.Intake;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.NewReferral;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralRefusal;
import org.earslot.referral.TakenIn;
import org.earslot.referral.TakenIn.PatientDeceased;
import org.earslot.referral.TakenIn.PatientDiffers;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Referrals for other programs. */
@RestController
@RequestMapping("/api/v1/referrals")
class ReferralApi {

    private final Intake intake;
    private final ClinicReferrals referrals;
    private final Duplicates duplicates;
    private final ReferralAppointments appointments;
    private final MethodSuitability suitability;
    private final Forms forms;

    ReferralApi(
            Intake intake,
            ClinicReferrals referrals,
            Duplicates duplicates,
            ReferralAppointments appointments,
            MethodSuitability suitability,
            Forms forms) {
        this.intake = intake;
        this.referrals = referrals;
        this.duplicates = duplicates;
        this.appointments = appointments;
        this.suitability = suitability;
        this.forms = forms;
    }

    /**
     * A referral taken in, and records that may be of the same person: to be looked at, nothing was merged.
     *
     * @param status the code of {@link org.earslot.referral.ReferralStatus}: whether it can be booked or is to be triaged first
     */
    record TakenInBody(UUID id, String status, List<Maybe> maybeSamePerson) {}

    /**
     * @param patientRef local number
     * @param alike in what: name, date_of_birth, phone
     */
    record Maybe(String patientRef, List<String> alike) {

        static Maybe of(Duplicates.Known known) {
            return new Maybe(
                    known.patient().localNumber(),
                    known.alike().stream()
                            .map(trait -> trait.toLowerCase(Locale.ROOT))
                            .toList());
        }
    }

    @PostMapping
    ResponseEntity<TakenInBody> takeIn(@RequestBody ReferralBody body) {
        Form form = forms.of(body.asForm());
        body.check(form);
        if (!form.clean()) {
            throw Refused.invalid(form.problems());
        }
        ReferralReading reading = new ReferralReading(form);
        String number = reading.localNumber().orElse(null);
        PatientDetails person = reading.person();
        reading.identity(person, number != null);
        ReferralDetails said =
                reading.referral(referrals.today()).orElseThrow(() -> Refused.invalid(reading.problems()));
        TakenIn taken = intake.takeIn(
                referrals.clinicId(), new NewReferral(number, person, said, false, false, null), referrals.taker(null));
        if (taken instanceof PatientDiffers differs) {
            throw differs(differs.fields());
        }
        if (taken instanceof PatientDeceased) {
            throw Refused.of(List.of(ReferralRefusal.DECEASED_NOT_TAKEN_IN));
        }
        Referral referral = ((TakenIn.Done) taken).referral();
        return ResponseEntity.created(URI.create("/api/v1/referrals/" + referral.id()))
                .body(new TakenInBody(
                        referral.id(),
                        referral.status().code(),
                        duplicates.of(referrals.patient(referral.patientId())).stream()
                                .map(Maybe::of)
                                .toList()));
    }

    /** Names the fields, never what is known in them. */
    private static Refused differs(List<String> fields) {
        Refused refused = Refused.conflict("patient-differs", "referral.api.patientDiffers");
        for (String field : fields) {
            refused = refused.at(field, "", "referral.api.sameAsKnown");
        }
        return refused;
    }

    @GetMapping("/{id}")
    ReferralBody show(@PathVariable UUID id) {
        Referral referral = referrals.referral(id);
        referrals.viewed("GET /api/v1/referrals/{id}", List.of(referral.patientId()));
        return ReferralBody.of(
                referral,
                referrals.patient(referral.patientId()),
                appointments.of(referrals.clinicId(), id),
                suitability.unknownCautions(referral));
    }
}
