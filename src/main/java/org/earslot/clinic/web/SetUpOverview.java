package org.earslot.clinic.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.SessionExceptions;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** Everything that is set up for a clinic, as the page shows it. */
@Component
class SetUpOverview {

    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions weekly;
    private final SessionExceptions exceptions;
    private final Policies policies;
    private final OtherVisitKinds kinds;

    SetUpOverview(
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions weekly,
            SessionExceptions exceptions,
            Policies policies,
            OtherVisitKinds kinds) {
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.weekly = weekly;
        this.exceptions = exceptions;
        this.policies = policies;
        this.kinds = kinds;
    }

    void add(Model model, ClinicId clinicId, LocalDate today) {
        List<Practitioner> staff = practitioners.findByClinicIdOrderByName(clinicId);
        List<Room> places = rooms.findByClinicIdOrderByName(clinicId);
        model.addAttribute("clinic", clinics.findById(clinicId).orElseThrow());
        model.addAttribute("practitioners", staff);
        model.addAttribute("rooms", places);
        model.addAttribute(
                "practitionerById", staff.stream().collect(Collectors.toMap(Practitioner::id, Function.identity())));
        model.addAttribute("roomById", places.stream().collect(Collectors.toMap(Room::id, Function.identity())));
        model.addAttribute(
                "sessions",
                weekly.findByClinicId(clinicId).stream()
                        .filter(session -> session.validTo()
                                .map(last -> !last.isBefore(today))
                                .orElse(true))
                        .sorted(Comparator.comparing(WeeklySession::day)
                                .thenComparing(session -> session.span().from()))
                        .toList());
        model.addAttribute("exceptions", exceptions.findByClinicIdAndDateBetween(clinicId, today, today.plusYears(2)));
        Policy policy = policies.findById(clinicId).orElseThrow();
        model.addAttribute("policyVersion", policy.version());
        model.addAttribute("policy", policy.terms());
        model.addAttribute("offers", policy.offersWeighList() ? "list" : "end");
        model.addAttribute("kinds", kinds.findByClinicIdOrderByName(clinicId));
        model.addAttribute("methods", Method.values());
        model.addAttribute("hands", Ear.values());
        model.addAttribute("weekdays", DayOfWeek.values());
        model.addAttribute("today", today);
    }
}
