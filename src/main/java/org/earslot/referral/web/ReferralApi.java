package org.earslot.referral.web;

import java.net.URI;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Form;
import org.earslot.page.Forms;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.earslot.patient.Duplicates;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.NewReferral;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.referral.TakenIn;
import org.earslot.referral.TakenIn.PatientDeceased;
import org.earslot.referral.TakenIn.PatientDiffers;
import org.springframework.context.ApplicationEventPublisher;
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
    private final Referrals referrals;
    private final Patients patients;
    private final Duplicates duplicates;
    private final ReferralAppointments appointments;
    private final MethodSuitability suitability;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Forms forms;
    private final ApplicationEventPublisher events;
    private final Messages messages;

    ReferralApi(
            Intake intake,
            Referrals referrals,
            Patients patients,
            Duplicates duplicates,
            ReferralAppointments appointments,
            MethodSuitability suitability,
            CurrentClinic current,
            ClinicClock clock,
            Forms forms,
            ApplicationEventPublisher events,
            Messages messages) {
        this.intake = intake;
        this.referrals = referrals;
        this.patients = patients;
        this.duplicates = duplicates;
        this.appointments = appointments;
        this.suitability = suitability;
        this.current = current;
        this.clock = clock;
        this.forms = forms;
        this.events = events;
        this.messages = messages;
    }

    /**
     * A referral taken in, and records that may be of the same person: to be looked at, nothing was merged.
     *
     * @param status the code of {@link org.earslot.referral.ReferralStatus}: whether it can be booked or is to be triaged first
     */
    record TakenInBody(UUID id, String status, List<Maybe> maybeSamePerson) {}

    /** @param patientRef local number @param alike in what: name, date_of_birth, phone */
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
                reading.referral(clock.today(current.id())).orElseThrow(() -> Refused.invalid(reading.problems()));
        TakenIn taken = intake.takeIn(
                current.id(),
                new NewReferral(number, person, said, false, false, null),
                new Intake.Taker(current.who(), null));
        if (taken instanceof PatientDiffers differs) {
            throw differs(differs.fields());
        }
        if (taken instanceof PatientDeceased) {
            throw Refused.conflict("patient-deceased", messages.say("referral.deceased.notTakenIn"));
        }
        Referral referral = ((TakenIn.Done) taken).referral();
        return ResponseEntity.created(URI.create("/api/v1/referrals/" + referral.id()))
                .body(new TakenInBody(
                        referral.id(),
                        referral.status().code(),
                        patients.findByClinicIdAndId(current.id(), referral.patientId()).stream()
                                .flatMap(patient -> duplicates.of(patient).stream())
                                .map(Maybe::of)
                                .toList()));
    }

    /** Names the fields, never what is known in them. */
    private static Refused differs(List<String> fields) {
        return new Refused(
                409,
                "patient-differs",
                "Another name or date of birth is known under this patientRef. Nothing was stored.",
                fields.stream()
                        .map(field -> new Problem(
                                field,
                                "",
                                "what is known of this patient, or nothing",
                                "check patientRef; leave the field out, or have the clinic correct its record"))
                        .toList());
    }

    @GetMapping("/{id}")
    ReferralBody show(@PathVariable UUID id) {
        Referral referral =
                referrals.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("referral"));
        var patient =
                patients.findByClinicIdAndId(current.id(), referral.patientId()).orElseThrow();
        events.publishEvent(Audited.viewed(current.id(), "GET /api/v1/referrals/{id}", List.of(patient.id())));
        return ReferralBody.of(
                referral, patient, appointments.of(current.id(), id), suitability.unknownCautions(referral));
    }
}
