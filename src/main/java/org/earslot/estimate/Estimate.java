package org.earslot.estimate;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.minutes.MinutesDistribution;

/**
 * How long a visit will take, and why.
 *
 * @param version the fit it rests on; {@link #ASSUMED} where there is none yet
 * @param completion time in room until the work is done
 * @param inRoom the lesser of that and a stop for comfort or safety: what the day sees
 * @param slotMinutes the slot to book: time in room and turnaround, on the grid, within the clinic's limits
 * @param turnaroundMinutes what of the slot makes the room ready
 * @param why lines that add up to the median of {@code completion}
 * @param ask what to ask, the most useful first
 * @param restsOn what is behind it
 * @param sharedSdLog what two visits of the same practitioner share without our knowing, on the log scale
 */
public record Estimate(
        String version,
        MinutesDistribution completion,
        MinutesDistribution inRoom,
        int slotMinutes,
        int turnaroundMinutes,
        List<WhyLine> why,
        List<Question> ask,
        RestsOn restsOn,
        double sharedSdLog) {

    /**
     * What an estimate rests on, beside what is assumed of any clinic.
     *
     * @param visits past visits of the clinic
     * @param answersCountUntil visits after which they say more than the lead's answers; 0 without answers
     */
    public record RestsOn(int visits, long answersCountUntil) {

        /** Past visits alone. */
        public static RestsOn visits(int visits) {
            return new RestsOn(visits, 0);
        }

        /** Whether the lead's answers count for more than the visits. */
        public boolean answersFirst() {
            return visits < answersCountUntil;
        }
    }

    /** The version of an estimate that rests on no visits, only on what is assumed of any clinic. */
    public static final String ASSUMED = "assumed";

    /** Minutes from which a reason is named. */
    private static final double LARGE = 0.5;

    /** Minutes from which a question is worth asking. */
    private static final double WORTH = 1;

    public Estimate {
        why = List.copyOf(why);
        ask = List.copyOf(ask);
    }

    /** Half of such visits are done by then, minutes. */
    public double median() {
        return completion.quantile(0.5);
    }

    /** "4 in 5 finish within ... min". */
    public double fourInFive() {
        return completion.quantile(0.8);
    }

    /** What every page says of it in one line. */
    public SlotSummary summary() {
        return SlotSummary.of(inRoom, slotMinutes, turnaroundMinutes);
    }

    /** The three lines that add or save most, beside what every visit takes; the largest first. */
    public List<WhyLine> largest() {
        return why.stream()
                .filter(line -> line.kind() == ItemKind.FACTOR && !line.level().isEmpty())
                .filter(line -> Math.abs(line.minutes()) >= LARGE)
                .sorted(Comparator.comparingDouble(line -> -Math.abs(line.minutes())))
                .limit(3)
                .toList();
    }

    /** The question most worth asking; empty where no answer would narrow the estimate by a minute. */
    public Optional<Question> worthAsking() {
        return ask.stream().findFirst().filter(question -> question.savesMinutes() >= WORTH);
    }

    /** Whether it rests on assumptions alone. */
    public boolean assumed() {
        return restsOn.equals(RestsOn.visits(0));
    }

    /** What is kept with an appointment: the numbers it was booked on, as text. */
    public String estimated() {
        return BookedEstimate.of(this).text();
    }

    /** The distribution as a picture, with the slot on it. */
    public Picture picture() {
        return Picture.of(this);
    }
}
