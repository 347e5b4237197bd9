package org.earslot.review.figures;

/**
 * What can be added up over visits, days and weeks.
 *
 * @param seen visits attended
 * @param absent visits where the patient did not attend
 * @param lateNotSeen visits where the patient arrived too late to be seen
 * @param waits visits whose wait is known
 * @param waitSum their waits, minutes
 * @param late visits called in more than 10 minutes late
 * @param measured visits whose overrun can be told
 * @param overran those that overran
 * @param overSum minutes over, all of them
 * @param estimated measured visits whose chance to outlast their slot was stored at booking
 * @param planned these chances, all together
 * @param sessions sessions held
 * @param overtime minutes past their ends
 * @param sessionMinutes minutes inside them, breaks left out
 * @param busyMinutes those of them that were used
 */
public record MonthTotals(
        int seen,
        int absent,
        int lateNotSeen,
        int waits,
        double waitSum,
        int late,
        int measured,
        int overran,
        double overSum,
        int estimated,
        double planned,
        int sessions,
        double overtime,
        double sessionMinutes,
        double busyMinutes) {

    public static final MonthTotals NONE = new MonthTotals(0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0);

    public MonthTotals plus(MonthTotals more) {
        return new MonthTotals(
                seen + more.seen,
                absent + more.absent,
                lateNotSeen + more.lateNotSeen,
                waits + more.waits,
                waitSum + more.waitSum,
                late + more.late,
                measured + more.measured,
                overran + more.overran,
                overSum + more.overSum,
                estimated + more.estimated,
                planned + more.planned,
                sessions + more.sessions,
                overtime + more.overtime,
                sessionMinutes + more.sessionMinutes,
                busyMinutes + more.busyMinutes);
    }

    /** Visits that were to be: seen, absent, or too late to be seen. */
    int expected() {
        return seen + absent + lateNotSeen;
    }

    double idle() {
        return sessionMinutes - busyMinutes;
    }
}
