package org.earslot.demo;

import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;

/**
 * The invented truth of how many minutes an ear takes. Every number is made up for the demo; what they follow is common
 * practice, no source: hand instruments are slower than suction, loose and sticky wax leave in pieces and are slow by
 * hand where a firm plug comes out whole, hard wax is slow under suction and water, deep and narrow are slower, most by
 * hand, and so is the ear on the far side.
 */
final class EarMinutes {

    private EarMinutes() {}

    /** Minutes for one ear before the practitioner's, the person's and the day's own factors. */
    static double of(Ear ear, InventedReferral referral, String dominantHand) {
        EarFindings inside = referral.truth().get(ear);
        Method method = referral.method();
        double minutes = base(method)
                * wax(method, inside)
                * depth(method, inside)
                * canal(method, inside.canal())
                * (inside.occlusion() == Occlusion.OCCLUDING ? 1 : inside.occlusion() == Occlusion.PARTLY ? 0.85 : 0.6);
        if (method != Method.MANUAL_REMOVAL && referral.softenerDays() >= 3) {
            minutes *= 0.88;
        }
        if (method == Method.MICROSUCTION && referral.patient().has(Caution.NOISE_INTOLERANCE)) {
            minutes *= 1.2;
        }
        boolean far = !ear.code().equals(dominantHand);
        return far ? minutes * 1.1 : minutes;
    }

    private static double base(Method method) {
        return switch (method) {
            case IRRIGATION -> 5.2;
            case MICROSUCTION -> 4.2;
            case MANUAL_REMOVAL -> 7.6;
        };
    }

    private static double wax(Method method, EarFindings inside) {
        return switch (method) {
            case IRRIGATION -> level(inside.wax(), 0.85, 0.9, 1.15, 1.2, 1.6);
            case MICROSUCTION -> level(inside.wax(), 0.8, 0.85, 1.1, 1, 1.5);
            case MANUAL_REMOVAL -> level(inside.wax(), 1.6, 1.25, 1.5, 1, 1.2);
        };
    }

    private static double depth(Method method, EarFindings inside) {
        return switch (method) {
            case IRRIGATION -> level(inside.depth(), 1, 1.05, 1.2);
            case MICROSUCTION -> level(inside.depth(), 1, 1.15, 1.35);
            case MANUAL_REMOVAL -> level(inside.depth(), 1, 1.45, 1.8);
        };
    }

    private static double canal(Method method, Canal canal) {
        return method == Method.MANUAL_REMOVAL ? level(canal, 0.92, 1, 1.3, 1.6) : level(canal, 0.95, 1, 1.12, 1.28);
    }

    private static double level(Enum<?> level, double... factors) {
        return factors[level.ordinal()];
    }
}
