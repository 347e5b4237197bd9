package org.earslot.estimate;

import org.earslot.minutes.MinutesDistribution;

/**
 * What every page says of the length of one visit, so that slot and time in room can be connected: "Book 45 min. Usually 31;
 * 1 in 4 takes longer".
 *
 * @param slotMinutes the slot
 * @param usualMinutes time in room, the median, whole minutes
 * @param turnaroundMinutes what of the slot makes the room ready
 * @param longer the chance that time in room and making the room ready take longer than the slot, 0 to 1
 */
public record SlotSummary(int slotMinutes, int usualMinutes, int turnaroundMinutes, double longer) {

    /** Beyond it "1 in 2" says too little. */
    private static final double IN_WORDS = 0.4;

    private static final double HARDLY = 0.04;

    /** Of a visit that takes so long, in a slot of so many minutes of which some make the room ready. */
    public static SlotSummary of(MinutesDistribution inRoom, int slotMinutes, int turnaroundMinutes) {
        return new SlotSummary(
                slotMinutes,
                (int) Math.round(inRoom.quantile(0.5)),
                turnaroundMinutes,
                1 - inRoom.cdf(Math.max(0, slotMinutes - turnaroundMinutes)));
    }

    /** The message; its arguments are the usual minutes and {@link #rate}. */
    public String key() {
        if (longer < HARDLY) {
            return "estimate.summary.hardly";
        }
        return longer > IN_WORDS ? "estimate.summary.percent" : "estimate.summary.oneIn";
    }

    /** One in so many, or a percentage where it is large. */
    public long rate() {
        return longer > IN_WORDS ? Math.round(100 * longer) : Math.round(1 / Math.max(longer, HARDLY));
    }
}
