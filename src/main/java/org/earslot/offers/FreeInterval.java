package org.earslot.offers;

import java.util.List;
import java.util.Optional;

/**
 * A session in which booked places follow each other without overlap, in minutes after midnight.
 *
 * @param from no place before it
 * @param to no place past it
 * @param pauseFrom a break no place overlaps; equal to {@code pauseTo} where there is none
 * @param grid starts lie on this grid from midnight
 */
public record FreeInterval(int from, int to, int pauseFrom, int pauseTo, int grid) {

    /**
     * A visit to be placed.
     *
     * @param start where it is wanted
     * @param slot its length if there is room for it
     * @param least what it is cut to if there is not
     * @param kept whether it stays with its start and whole slot
     */
    record Wanted(int start, int slot, int least, boolean kept) {}

    /** A place found. */
    record Found(int start, int slot) {}

    /**
     * Places as near as may be to the wanted starts, in their order: first brought back from the end, then pushed on
     * from the start. A slot longer than the way to the next place is cut to it, on the grid, never below its least.
     *
     * @return empty if they do not fit
     */
    Optional<List<Found>> fitted(List<Wanted> wanted) {
        int[] starts = wanted.stream().mapToInt(Wanted::start).toArray();
        int latestEnd = to;
        for (int i = starts.length - 1; i >= 0; i--) {
            Wanted each = wanted.get(i);
            if (!each.kept()) {
                starts[i] = before(Math.min(starts[i], latestEnd - each.least()), each.least());
            }
            latestEnd = starts[i];
        }
        int free = from;
        for (int i = 0; i < starts.length; i++) {
            Wanted each = wanted.get(i);
            if (!each.kept()) {
                starts[i] = after(Math.max(starts[i], free), each.least());
            }
            free = starts[i] + (each.kept() ? each.slot() : each.least());
        }
        return cut(wanted, starts);
    }

    private Optional<List<Found>> cut(List<Wanted> wanted, int[] starts) {
        Found[] found = new Found[starts.length];
        int next = to;
        for (int i = starts.length - 1; i >= 0; i--) {
            Wanted each = wanted.get(i);
            int end = starts[i] < pauseFrom ? Math.min(next, pauseFrom) : next;
            int slot = each.kept() || starts[i] + each.slot() <= end ? each.slot() : down(end - starts[i]);
            boolean fits = each.kept() ? starts[i] + slot <= next : slot >= each.least() && starts[i] >= from;
            if (!fits || slot <= 0) {
                return Optional.empty();
            }
            found[i] = new Found(starts[i], slot);
            next = starts[i];
        }
        return Optional.of(List.of(found));
    }

    /** The last grid point not after {@code start} from which {@code length} minutes are clear of the break. */
    private int before(int start, int length) {
        int at = down(start);
        return at < pauseTo && at + length > pauseFrom ? down(pauseFrom - length) : at;
    }

    /** The first grid point not before {@code start} from which {@code length} minutes are clear of the break. */
    private int after(int start, int length) {
        int at = up(start);
        return at < pauseTo && at + length > pauseFrom ? up(pauseTo) : at;
    }

    private int down(int minute) {
        return Math.floorDiv(minute, grid) * grid;
    }

    private int up(int minute) {
        return -Math.floorDiv(-minute, grid) * grid;
    }
}
