package org.earslot.referral.web;

import java.net.URI;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.referral.Duplicates;
import org.earslot.referral.Intake;
import org.earslot.referral.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
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
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    ReferralApi(
            Intake intake,
            Referrals referrals,
            Patients patients,
            Duplicates duplicates,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.intake = intake;
        this.referrals = referrals;
        this.patients = patients;
        this.duplicates = duplicates;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    /** A referral taken in, and records that may be of the same person: to be looked at, nothing was merged. */
    record TakenIn(UUID id, List<Maybe> maybeSamePerson) {}

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
    ResponseEntity<TakenIn> takeIn(@RequestBody ReferralBody body) {
        Reading sent = new Reading();
        body.check(sent);
        if (!sent.clean()) {
            throw Refused.invalid(sent.problems());
        }
        ReferralReading reading = new ReferralReading(body.asForm(), clock.today(current.id()));
        var number = reading.localNumber();
        var person = reading.person();
        var said = reading.referral().orElseThrow(() -> Refused.invalid(reading.problems()));
        Referral referral =
                intake.takeIn(current.id(), number.orElse(null), person, said, new Intake.Taker(current.who(), null));
        return ResponseEntity.created(URI.create("/api/v1/referrals/" + referral.id()))
                .body(new TakenIn(
                        referral.id(),
                        patients.findByClinicIdAndId(current.id(), referral.patientId()).stream()
                                .flatMap(patient -> duplicates.of(patient).stream())
                                .map(Maybe::of)
                                .toList()));
    }

    @GetMapping("/{id}")
    ReferralBody show(@PathVariable UUID id) {
        Referral referral =
                referrals.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("referral"));
        var patient =
                patients.findByClinicIdAndId(current.id(), referral.patientId()).orElseThrow();
        events.publishEvent(Audited.viewed(current.id(), "GET /api/v1/referrals/{id}", List.of(patient.id())));
        return ReferralBody.of(referral, patient);
    }
}
