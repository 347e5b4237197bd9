package org.earslot.referral.web;

import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.ear.Word;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Drafting;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagCases;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralAppointments.Booked;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The referrals at one status, the forms begun, and the red flags that wait for a clinician. */
@Controller
@RequestMapping("/referrals")
class ReferralListPage {

    private static final int LISTED = 200;

    /** More than a clinic has booked ahead: these are put in order of their appointments before the list is cut. */
    private static final Limit BOOKED = Limit.of(5000);

    private final Referrals referrals;
    private final Patients patients;
    private final RedFlagCases cases;
    private final Drafting drafting;
    private final RedFlagSection redFlags;
    private final ClinicReferrals shown;
    private final ReferralAppointments appointments;

    ReferralListPage(
            Referrals referrals,
            Patients patients,
            RedFlagCases cases,
            Drafting drafting,
            RedFlagSection redFlags,
            ClinicReferrals shown,
            ReferralAppointments appointments) {
        this.referrals = referrals;
        this.patients = patients;
        this.cases = cases;
        this.drafting = drafting;
        this.redFlags = redFlags;
        this.shown = shown;
        this.appointments = appointments;
    }

    @GetMapping
    String list(@RequestParam(defaultValue = "ready_to_book") String status, Model model) {
        ReferralStatus at = ReferralStatus.of(status).orElseThrow(() -> unknownStatus(status));
        Map<UUID, Booked> booked = new HashMap<>();
        List<Referral> listed = at == ReferralStatus.BOOKED
                ? byAppointment(booked)
                : referrals.standingAt(shown.clinicId(), at.code(), Limit.of(LISTED));
        model.addAttribute("shown", at);
        model.addAttribute("appointments", booked);
        model.addAttribute("counts", counts());
        model.addAttribute("referrals", listed);
        List<RedFlagCase> open = cases.findByClinicIdAndSettledAtIsNullOrderByRaisedAt(shown.clinicId());
        Set<UUID> flagged = open.stream().map(RedFlagCase::referralId).collect(Collectors.toSet());
        Map<UUID, Referral> flaggedById = referrals.findByClinicIdAndIdIn(shown.clinicId(), flagged).stream()
                .collect(Collectors.toMap(Referral::id, Function.identity()));
        List<Referral> named = new ArrayList<>(listed);
        named.addAll(flaggedById.values());
        model.addAttribute("drafts", drafting.all(shown.clinicId()));
        model.addAttribute("openCases", open);
        model.addAttribute("flagged", flaggedById);
        model.addAttribute("clinicianNames", redFlags.clinicianNames());
        model.addAttribute("zone", shown.zone());
        Map<UUID, Patient> shownPatients = patientsOf(named);
        model.addAttribute("patients", shownPatients);
        shown.viewed("referrals " + at.code(), shownPatients.keySet());
        return "referral/referrals";
    }

    /** Those booked, the next appointment first, and after those to come the ones that are over, the latest first. */
    private List<Referral> byAppointment(Map<UUID, Booked> booked) {
        List<Referral> all = referrals.standingAt(shown.clinicId(), ReferralStatus.BOOKED.code(), BOOKED);
        booked.putAll(appointments.latest(
                shown.clinicId(), all.stream().map(Referral::id).toList()));
        LocalDateTime today = shown.today().atStartOfDay();
        Function<Referral, LocalDateTime> start = referral -> Optional.ofNullable(booked.get(referral.id()))
                .map(Booked::start)
                .orElse(today);
        Comparator<Referral> over =
                Comparator.comparing(referral -> start.apply(referral).isBefore(today));
        return all.stream()
                .sorted(over.thenComparing(referral ->
                        Duration.between(today, start.apply(referral)).abs()))
                .limit(LISTED)
                .toList();
    }

    private Map<UUID, Patient> patientsOf(Collection<Referral> listed) {
        return patients
                .findByClinicIdAndIdIn(
                        shown.clinicId(),
                        listed.stream().map(Referral::patientId).collect(Collectors.toSet()))
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
    }

    private Map<ReferralStatus, Long> counts() {
        Map<String, Long> found = referrals.counts(shown.clinicId()).stream()
                .collect(Collectors.toMap(Referrals.StatusCount::getStatus, Referrals.StatusCount::getCount));
        Map<ReferralStatus, Long> counts = new LinkedHashMap<>();
        for (ReferralStatus status : ReferralStatus.values()) {
            counts.put(status, found.getOrDefault(status.code(), 0L));
        }
        return counts;
    }

    private static Refused unknownStatus(String given) {
        return Refused.invalid(
                "status", given, "page.allowed.oneOf", String.join(", ", Word.codes(ReferralStatus.values())));
    }
}
