package org.earslot.daysheet;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.caution.CautionSummary;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.Verdict;
import org.earslot.clinic.Practitioner;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Line;
import org.earslot.daysheet.Briefing.RedFlagState;
import org.earslot.daysheet.DaySheet.SheetLine;
import org.earslot.daysheet.DaySheet.Warning;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What is to be settled before one visit of a day. */
@Component
class VisitWarnings {

    private final SuitabilityCheck suitabilityCheck;

    VisitWarnings(SuitabilityCheck suitabilityCheck) {
        this.suitabilityCheck = suitabilityCheck;
    }

    List<Warning> of(Line line, SheetLine written, @Nullable Referral referral, CoverAssignments holders) {
        List<Warning> warnings = new ArrayList<>(ofItsPlace(line, holders));
        if (line.progress() != DaySchedule.Progress.TO_COME) {
            return warnings;
        }
        Briefing brief = written.brief();
        warnings.addAll(ofThePatient(line, brief, holders));
        Method method = written.method();
        if (method == null) {
            return warnings;
        }
        warnings.addAll(ofTheMethod(line, brief, method, holders));
        if (referral != null) {
            warnings.addAll(ofSuitability(line, brief, method, referral));
            warnings.addAll(ofCautions(line, brief.cautions(), referral));
            if (brief.needsSoftener() && brief.softenerDays() == null) {
                warnings.add(new Warning.SoftenerNotConfirmed(
                        line.start(), line.who().name(), brief.person().contact(), line.id()));
            }
        }
        return warnings;
    }

    private static List<Warning> ofItsPlace(Line line, CoverAssignments holders) {
        LocalTime start = line.start();
        String name = line.who().name();
        Optional<Practitioner> cover = holders.cover(line);
        if (cover.isPresent()) {
            return List.of(new Warning.NotHandedOver(start, name, cover.get().name(), line.id()));
        }
        return line.inSession() ? List.of() : List.of(new Warning.OutsideSession(start, name, line.id()));
    }

    private static List<Warning> ofThePatient(Line line, Briefing brief, CoverAssignments holders) {
        List<Warning> warnings = new ArrayList<>();
        LocalTime start = line.start();
        String name = line.who().name();
        holders.ageNotSeen(line, brief.age())
                .ifPresent(who -> warnings.add(new Warning.AgeNotSeen(start, name, who.name(), line.id())));
        if (brief.consentNotKnown()) {
            warnings.add(new Warning.ConsentNotKnown(start, name, line.who().referralId()));
        }
        return warnings;
    }

    private static List<Warning> ofTheMethod(Line line, Briefing brief, Method method, CoverAssignments holders) {
        List<Warning> warnings = new ArrayList<>();
        LocalTime start = line.start();
        String name = line.who().name();
        holders.unable(line)
                .ifPresent(who -> warnings.add(new Warning.MethodNotHeld(start, name, method, who.name(), line.id())));
        if (brief.redFlags() == RedFlagState.OPEN) {
            warnings.add(new Warning.RedFlagOpen(start, name, line.who().referralId()));
        }
        if (!brief.cautions().unknown().isEmpty()) {
            warnings.add(new Warning.CautionsUnknown(
                    start, name, brief.cautions().unknown(), line.who().referralId()));
        }
        return warnings;
    }

    private List<Warning> ofSuitability(Line line, Briefing brief, Method method, Referral referral) {
        List<Warning> warnings = new ArrayList<>();
        LocalTime start = line.start();
        String name = line.who().name();
        if (!brief.forbidding().isEmpty()) {
            warnings.add(new Warning.Contraindicated(start, name, method, brief.forbidding(), line.id()));
        }
        suitabilityCheck
                .sinceBooked(referral.clinicId(), line.id())
                .filter(worse -> worse.now() != Verdict.CONTRAINDICATED)
                .filter(worse -> !worse.cautions().isEmpty()
                        || brief.cautions().unknown().isEmpty())
                .ifPresent(worse -> warnings.add(new Warning.CautionWorse(
                        start, name, method, worse.was(), worse.now(), worse.cautions(), line.id())));
        return warnings;
    }

    private static List<Warning> ofCautions(Line line, CautionSummary cautions, Referral referral) {
        List<Warning> warnings = new ArrayList<>();
        LocalTime start = line.start();
        String name = line.who().name();
        if (!cautions.asked()) {
            warnings.add(new Warning.CautionsNotAsked(start, name, referral.id()));
        } else if (!cautions.notKnown().isEmpty()) {
            warnings.add(new Warning.CautionsNotKnown(start, name, cautions.notKnown(), referral.id()));
        }
        if (!cautions.contradicted().isEmpty()) {
            List<Caution> earlier = cautions.contradicted().stream()
                    .map(PatientCaution::caution)
                    .distinct()
                    .toList();
            warnings.add(new Warning.CautionsContradicted(start, name, earlier, referral.id()));
        }
        return warnings;
    }
}
