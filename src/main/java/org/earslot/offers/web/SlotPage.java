package org.earslot.offers.web;

import java.time.LocalDateTime;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.PortableEquipment;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Method;
import org.earslot.offers.SlotWish;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The page of the offers, shown again by whoever refuses a booking. */
@Component
public class SlotPage {

    private final WishedVisitSection visit;
    private final OffersSection offers;
    private final Referrals referrals;
    private final Appointments appointments;
    private final PortableEquipment units;
    private final CurrentClinic current;
    private final ClinicClock clock;

    SlotPage(
            WishedVisitSection visit,
            OffersSection offers,
            Referrals referrals,
            Appointments appointments,
            PortableEquipment units,
            CurrentClinic current,
            ClinicClock clock) {
        this.visit = visit;
        this.offers = offers;
        this.referrals = referrals;
        this.appointments = appointments;
        this.units = units;
        this.current = current;
        this.clock = clock;
    }

    public String show(
            Model model, @Nullable UUID referralId, @Nullable UUID appointmentId, Map<String, String> typed) {
        ClinicId clinic = current.id();
        Optional<Appointment> moved = Optional.ofNullable(appointmentId)
                .map(id -> appointments
                        .findByClinicIdAndId(clinic, id)
                        .orElseThrow(() -> Refused.notFound("appointment")));
        UUID asked = moved.flatMap(Appointment::referralId).orElse(referralId);
        Optional<Referral> referral = Optional.ofNullable(asked)
                .map(id -> referrals.findByClinicIdAndId(clinic, id).orElseThrow(() -> Refused.notFound("referral")));
        SlotForm form = new SlotForm(typed);
        Reading reading = new Reading();
        Optional<SlotWish> wish =
                form.wish(moved.isPresent() ? null : asked, appointmentId, clock.today(clinic), reading);
        model.addAttribute("form", form);
        model.addAttribute("problems", reading.byField());
        visit.add(model, moved, referral);
        if (model.getAttribute("patient") instanceof Patient patient) {
            model.addAttribute("consentNotKnown", patient.details().consentNotKnownOn(clock.today(clinic)));
            model.addAttribute("otherVisits", otherVisits(patient, moved.orElse(null)));
        }
        Optional<Method> method = moved.map(one -> one.planned().method())
                .or(() -> referral.map(one -> one.details().request().methodPlanned()));
        method.filter(units.of(clinic)::allOutOfUse).ifPresent(none -> model.addAttribute("outOfUse", none));
        model.addAttribute("weekdays", SlotForm.WEEKDAYS);
        model.addAttribute("bestFirst", form.bestFirst());
        wish.ifPresent(
                wanted -> offers.add(model, wanted, form.bestFirst(), referral.orElse(null), moved.orElse(null)));
        return "offers/slots";
    }

    /** An appointment that the patient has. */
    record OtherVisit(UUID id, LocalDateTime start) {}

    /** The appointments that the patient has to come, without the one that is moved; the next first. */
    private List<OtherVisit> otherVisits(Patient patient, @Nullable Appointment moved) {
        return appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(patient.clinicId(), patient.id()).stream()
                .filter(one -> one.status().toCome() && !one.place().start().isBefore(clock.now()))
                .filter(one -> moved == null || !one.id().equals(moved.id()))
                .sorted(Comparator.comparing(one -> one.place().start()))
                .map(one -> new OtherVisit(
                        one.id(), clock.local(patient.clinicId(), one.place().start())))
                .toList();
    }
}
