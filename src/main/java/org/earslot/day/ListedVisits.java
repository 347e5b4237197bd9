package org.earslot.day;

import java.time.Instant;
import java.time.ZoneId;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.PlaceRules;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Answer;
import org.earslot.estimate.habits.AttendanceModel;
import org.earslot.estimate.habits.LearntPatterns;
import org.earslot.flow.list.Arrivals;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Component;

/** Appointments as visits of a list, each with what the clinic's log says of who comes and when. */
@Component
public class ListedVisits {

    private final Referrals referrals;
    private final LearntPatterns habits;
    private final PlaceRules rules;
    private final ClinicClock clock;

    ListedVisits(Referrals referrals, LearntPatterns habits, PlaceRules rules, ClinicClock clock) {
        this.referrals = referrals;
        this.habits = habits;
        this.rules = rules;
        this.clock = clock;
    }

    List<ListedVisit> of(ClinicId clinicId, Collection<Appointment> appointments) {
        PolicyTerms policy = rules.policy(clinicId);
        ZoneId zone = clock.zone(clinicId);
        AttendanceModel coming = habits.of(clinicId).coming();
        Arrivals arrivals = arrivals(coming);
        Instant now = clock.now();
        Map<UUID, Answer> first = firstVisits(appointments);
        return appointments.stream()
                .map(each -> {
                    Answer answer = each.referralId().map(first::get).orElse(Answer.NOT_KNOWN);
                    return ListedVisit.of(
                            each, policy, zone, new AttendanceProbability(coming.absent(answer), arrivals), now);
                })
                .toList();
    }

    /** Whether the patient of an appointment comes, and when. */
    public AttendanceProbability likely(Appointment appointment) {
        AttendanceModel coming = habits.of(appointment.clinicId()).coming();
        Answer first =
                firstVisits(List.of(appointment)).values().stream().findFirst().orElse(Answer.NOT_KNOWN);
        return new AttendanceProbability(coming.absent(first), arrivals(coming));
    }

    public static Arrivals arrivals(AttendanceModel coming) {
        return new Arrivals(AttendanceModel.EARLIEST_MINUTES, coming.sinceEarliest());
    }

    private Map<UUID, Answer> firstVisits(Collection<Appointment> appointments) {
        List<UUID> ids = appointments.stream()
                .flatMap(each -> each.referralId().stream())
                .distinct()
                .toList();
        return ids.isEmpty()
                ? Map.of()
                : referrals.findAllById(ids).stream()
                        .collect(Collectors.toMap(
                                Referral::id, each -> each.details().request().firstVisit()));
    }
}
