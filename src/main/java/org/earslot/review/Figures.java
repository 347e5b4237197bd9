package org.earslot.review;

/**
 * What can be added up over visits, days and weeks.
 *
 * @param seen visits attended
 * @param absent visits where the patient did not attend
 * @param waits visits whose wait is known
 * @param waitSum their waits, minutes
 * @param waitSquares the squares of their waits
 * @param late visits called in more than 10 minutes late
 * @param measured visits whose overrun can be told
 * @param overran those that overran
 * @param overSum minutes over, all of them
 */
record Figures(
        int seen,
        int absent,
        int waits,
        double waitSum,
        double waitSquares,
        int late,
        int measured,
        int overran,
        double overSum) {

    static final Figures NONE = new Figures(0, 0, 0, 0, 0, 0, 0, 0, 0);

    Figures plus(Figures more) {
        return new Figures(
                seen + more.seen,
                absent + more.absent,
                waits + more.waits,
                waitSum + more.waitSum,
                waitSquares + more.waitSquares,
                late + more.late,
                measured + more.measured,
                overran + more.overran,
                overSum + more.overSum);
    }
}
