package org.earslot.demo;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Answer;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/**
 * What the demo's callers answered about red flags. No file of bookings says it, so it is recorded afterwards by the same
 * verbs as at the desk: most were asked and said no, a few are still to be asked, one said yes.
 */
@Component
@Profile("demo")
class DemoQuestions {

    private static final Taker DEMO = new Taker("demo", null);
    private static final int ONE_IN = 12;

    private final Appointments appointments;
    private final Referrals referrals;
    private final Practitioners practitioners;
    private final Intake intake;
    private final RedFlagTriage triage;
    private final ClinicClock clock;

    DemoQuestions(
            Appointments appointments,
            Referrals referrals,
            Practitioners practitioners,
            Intake intake,
            RedFlagTriage triage,
            ClinicClock clock) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.practitioners = practitioners;
        this.intake = intake;
        this.triage = triage;
        this.clock = clock;
    }

    /**
     * Answers for those booked from today on: red flags all "no", and no caution beyond those that came with the booking.
     * One in twelve is still to be asked; the last one booked said yes to a sudden loss.
     */
    void answer(ClinicId clinicId) {
        practitioners.findByClinicIdOrderByName(clinicId).stream()
                .findFirst()
                .ifPresent(first -> triage.sendRedFlagsTo(clinicId, first.id()));
        LocalDate today = clock.today(clinicId);
        List<Referral> booked =
                appointments
                        .findByClinicIdAndClinicDateBetweenOrderByStartsAt(clinicId, today, today.plusYears(1))
                        .stream()
                        .sorted(Comparator.comparing(
                                appointment -> appointment.place().start()))
                        .map(Appointment::referralId)
                        .flatMap(id -> id.flatMap(one -> referrals.findByClinicIdAndId(clinicId, one)).stream())
                        .toList();
        for (int i = 0; i < booked.size(); i++) {
            boolean last = i == booked.size() - 1;
            if (last || i % ONE_IN != ONE_IN - 1) {
                intake.answerRedFlags(
                        booked.get(i), new RedFlagAnswers(last ? suddenLoss() : RedFlag.noneOfThese(), null), DEMO);
                intake.addCautions(booked.get(i), List.of(), DEMO);
            }
        }
    }

    private static Map<RedFlag, Answer> suddenLoss() {
        Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.noneOfThese());
        answers.put(RedFlag.SUDDEN_LOSS_RECENT, Answer.YES);
        return answers;
    }
}
