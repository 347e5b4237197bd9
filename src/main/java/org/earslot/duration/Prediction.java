package org.earslot.duration;

import java.util.List;
import org.earslot.minutes.MinutesDistribution;

/**
 * How long a visit will take, and why.
 *
 * @see FittedModel#predict
 */
public interface Prediction {

    /** The time to completion. */
    MinutesDistribution completion();

    /** The time in room: the lesser of completion and a stop for comfort or safety. Never above completion. */
    MinutesDistribution inRoom();

    /** Why this long: the items of the breakdown, whose minutes add up to the median of {@link #completion}. */
    List<Item> why();

    /** What to ask: each finding not known for certain, the most useful question first. */
    List<Question> ask();

    /**
     * The standard deviation of what two visits of the same practitioner and day share without our knowing it: the
     * posterior uncertainty of the practitioner's own log factor, and the learnt spread of that practitioner's days.
     */
    double sharedSdLog();

    /**
     * A line of the breakdown.
     *
     * @param kind what sort of line it is
     * @param part the part it belongs to, "" for what is paid once and for the whole
     * @param factor the factor, "" where the line is about none
     * @param level the level known or reported, "" where not known
     * @param minutes what it adds (below 0: what it saves)
     * @param low 10 % point of those minutes over what the coefficients may be
     * @param high 90 % point
     */
    record Item(ItemKind kind, String part, String factor, String level, double minutes, double low, double high) {}

    /** The sorts of lines. */
    enum ItemKind {
        /** What a visit takes with nothing particular about it, paid once. */
        ONCE,
        /** What a part of this kind takes with nothing particular about it. */
        PART,
        /** What a factor adds at its level, or at the mixture of levels it may have. */
        FACTOR,
        /** Who does the work. */
        GROUP,
        /** This person's own past times. */
        PERSON,
        /** What is not known, and calibration: shown median less the location. */
        UNKNOWN
    }

    /**
     * A question worth asking.
     *
     * @param part the part it is about, "" for the whole visit
     * @param factor the factor to ask about
     * @param savesMinutes by how much the expected CRPS (minutes) falls on average once a report is in hand; at least 0
     */
    record Question(String part, String factor, double savesMinutes) {}
}
