package org.earslot.daysheet;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.SessionProjection.Expected;
import org.earslot.daysheet.Briefing.RedFlagState;
import org.earslot.daysheet.DaySheet.RunsOn;
import org.earslot.daysheet.DaySheet.SessionLine;
import org.earslot.daysheet.DaySheet.Sheet;
import org.earslot.daysheet.DaySheet.SheetLine;
import org.earslot.daysheet.DaySheet.Unasked;
import org.earslot.daysheet.DaySheet.Warning;
import org.earslot.daysheet.Mornings.Morning;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.SlotSummary;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Makes the morning's sheets from the day as it is booked. */
@Service
public class DaySheets {

    private final Referrals referrals;
    private final Briefings briefings;
    private final VisitWarnings visitWarnings;
    private final Mornings mornings;
    private final SheetReasons reasons;

    DaySheets(
            Referrals referrals,
            Briefings briefings,
            VisitWarnings visitWarnings,
            Mornings mornings,
            SheetReasons reasons) {
        this.referrals = referrals;
        this.briefings = briefings;
        this.visitWarnings = visitWarnings;
        this.mornings = mornings;
        this.reasons = reasons;
    }

    /** The sheets of {@code date}, those of practitioners without any visit left out. */
    @Transactional(readOnly = true)
    public DaySheet of(ClinicId clinicId, LocalDate date) {
        Morning morning = mornings.of(clinicId, date);
        return new DaySheet(
                date,
                morning.day().lanes().stream()
                        .filter(lane -> !lane.seen().isEmpty())
                        .map(lane -> sheet(morning, lane))
                        .toList());
    }

    private Sheet sheet(Morning morning, Lane lane) {
        List<SessionLine> sessions = lane.sessions().stream()
                .map(session -> new SessionLine(
                        session.held(),
                        session.roomName(),
                        session.run().pastEnd(),
                        session.run().overtimeMinutes(),
                        !session.run().visits().isEmpty() && lane.open(session).isEmpty()))
                .toList();
        List<Warning> warnings = new ArrayList<>();
        lane.sessions().forEach(session -> warnings.addAll(SessionWarnings.of(session, lane, morning.policy())));
        List<SheetLine> lines = new ArrayList<>();
        List<Line> seen = lane.seen();
        List<Unasked> unasked = new ArrayList<>();
        for (int i = 0; i < seen.size(); i++) {
            Line line = seen.get(i);
            Referral referral = referral(morning.day().clinicId(), line);
            SheetLine written = line(morning, line, referral, i == seen.size() - 1);
            lines.add(written);
            warnings.addAll(visitWarnings.of(line, written, referral, morning.holders()));
            if (line.progress() == DaySchedule.Progress.TO_COME
                    && written.brief().redFlags() == RedFlagState.NOT_ASKED) {
                unasked.add(
                        new Unasked(line.start(), line.who().name(), line.who().referralId()));
            }
        }
        if (!unasked.isEmpty()) {
            warnings.add(new Warning.RedFlagsNotAsked(unasked));
        }
        warnings.addAll(morning.kit().warnings(lines));
        return new Sheet(lane.practitionerId(), lane.practitionerName(), sessions, warnings, lines);
    }

    private SheetLine line(Morning morning, Line line, @Nullable Referral referral, boolean last) {
        DaySchedule day = morning.day();
        Method method = line.what().method();
        Expected expected = line.expected();
        LocalTime starts = expected == null ? null : expected.starts();
        Briefing brief = briefings.of(day.clinicId(), day.date(), line, referral, morning.trays());
        return new SheetLine(
                line.id(),
                line.start(),
                starts,
                expected == null ? null : expected.startsEarliest(),
                expected == null ? null : expected.startsLatest(),
                line.slotMinutes(),
                summary(line, morning.policy()),
                line.fitIn(),
                line.who(),
                method,
                line.what().ears(),
                line.what().otherKind(),
                method == null ? List.of() : reasons.of(day.clinicId(), line, referral),
                brief,
                runsOn(line, brief, last),
                runsOnAt(line, starts));
    }

    private static @Nullable SlotSummary summary(Line line, PolicyTerms policy) {
        Method method = line.what().method();
        return method == null || line.fitIn()
                ? null
                : SlotSummary.of(line.inRoom(), line.slotMinutes(), policy.turnaroundMinutes(method));
    }

    private static RunsOn runsOn(Line line, Briefing brief, boolean last) {
        Method method = line.what().method();
        if (method == null) {
            return RunsOn.OTHER;
        } else if (last) {
            return RunsOn.LAST;
        } else if (line.what().ears() == Ears.BOTH) {
            return RunsOn.SECOND_EAR;
        }
        boolean waterMayStay = brief.softener() != null && !brief.softener().drumInDoubt();
        return method == Method.IRRIGATION && waterMayStay ? RunsOn.WATER : RunsOn.ONE_EAR;
    }

    /** A visit that starts late has its slot's length all the same; one that starts early delays nobody before its end. */
    private static LocalTime runsOnAt(Line line, @Nullable LocalTime starts) {
        LocalTime calledIn = line.times().calledIn();
        LocalTime from = calledIn == null ? starts : calledIn;
        return from == null || from.isBefore(line.start()) ? line.slotEnd() : from.plusMinutes(line.slotMinutes());
    }

    private @Nullable Referral referral(ClinicId clinicId, Line line) {
        UUID id = line.who().referralId();
        return id == null ? null : referrals.findByClinicIdAndId(clinicId, id).orElse(null);
    }
}
