package org.earslot.review.figures;

import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.SessionPattern;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTermChanges;
import org.earslot.clinic.policy.PolicyTerms;
import org.springframework.stereotype.Component;

/** Reads months as their visits and sessions are recorded now. */
@Component
public class PastMonths {

    private final MeasuredVisits visits;
    private final Sessions sessions;
    private final Policies policies;
    private final PolicyTermChanges policyChanges;
    private final ClinicClock clock;

    PastMonths(
            MeasuredVisits visits,
            Sessions sessions,
            Policies policies,
            PolicyTermChanges policyChanges,
            ClinicClock clock) {
        this.visits = visits;
        this.sessions = sessions;
        this.policies = policies;
        this.policyChanges = policyChanges;
        this.clock = clock;
    }

    /** One month. */
    public PastMonth of(ClinicId clinicId, YearMonth month, Scope whose) {
        return between(clinicId, month, month, whose).findFirst().orElseThrow();
    }

    /** Each month from {@code first} to {@code last}, read when it is its turn, so that few visits are in memory. */
    public Stream<PastMonth> between(ClinicId clinicId, YearMonth first, YearMonth last, Scope whose) {
        ZoneId zone = zone(clinicId);
        Function<YearMonth, PolicyTerms> terms = termsSince(clinicId, first);
        SessionPattern pattern = sessions.pattern(clinicId, first.atDay(1), last.atEndOfMonth());
        return Stream.iterate(first, month -> !month.isAfter(last), month -> month.plusMonths(1))
                .map(month -> {
                    LocalDate begins = month.atDay(1);
                    LocalDate ends = month.atEndOfMonth();
                    List<MeasuredVisit> booked = visits.between(clinicId, begins, ends, whose);
                    return new PastMonth(
                            month,
                            booked,
                            BookedEstimates.of(booked),
                            pattern.between(begins, ends),
                            zone,
                            terms.apply(month)::turnaroundMinutes);
                });
    }

    /** How many visits of the month were cancelled, by whom. */
    public MeasuredVisits.Cancelled cancelled(ClinicId clinicId, YearMonth month, Scope whose) {
        return visits.cancelled(clinicId, month.atDay(1), month.atEndOfMonth(), whose);
    }

    /** The last month that is over and had visits; this month if only this one has; empty if none ever had. */
    public Optional<YearMonth> latest(ClinicId clinicId, Scope whose) {
        LocalDate today = clock.today(clinicId);
        return visits.lastBefore(clinicId, today.withDayOfMonth(1), whose)
                .or(() -> visits.lastBefore(clinicId, today.plusDays(1), whose))
                .map(YearMonth::from);
    }

    /** The month that the clinic's calendar shows now. */
    public YearMonth now(ClinicId clinicId) {
        return YearMonth.from(clock.today(clinicId));
    }

    /** The clinic's time zone. */
    public ZoneId zone(ClinicId clinicId) {
        return clock.zone(clinicId);
    }

    /** The clinic's policy in force. */
    public PolicyTerms terms(ClinicId clinicId) {
        return policy(clinicId).terms();
    }

    /** The policy as {@code month} ended, or as it is if it still runs: what is changed later changes no past month. */
    public PolicyTerms terms(ClinicId clinicId, YearMonth month) {
        return termsSince(clinicId, month).apply(month);
    }

    private Function<YearMonth, PolicyTerms> termsSince(ClinicId clinicId, YearMonth first) {
        Function<Instant, PolicyTerms> past = policyChanges.past(policy(clinicId), end(clinicId, first));
        return month -> past.apply(end(clinicId, month));
    }

    private Instant end(ClinicId clinicId, YearMonth month) {
        return month.plusMonths(1).atDay(1).atStartOfDay(zone(clinicId)).toInstant();
    }

    private Policy policy(ClinicId clinicId) {
        return policies.findById(clinicId).orElseGet(() -> Policy.starting(clinicId));
    }
}
