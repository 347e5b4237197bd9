package org.earslot.demo;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.demo.ClinicFile.Practitioner;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;

/** One visit as asked for: what is truly in the ears, and what the referral says of it. */
record InventedReferral(
        InventedPatient patient,
        Method method,
        Ears ears,
        boolean firstVisit,
        int softenerDays,
        Map<Ear, EarFindings> truth,
        Map<Ear, EarFindings> reported,
        boolean slowCase) {

    /** Cautions under which water is not used (the defaults of the trade's table). */
    static final Set<Caution> NO_WATER =
            Set.of(Caution.PERFORATION, Caution.EAR_SURGERY, Caution.MASTOID_CAVITY, Caution.GROMMET);

    static InventedReferral drawn(InventedPatient patient, Practitioner practitioner, Dice dice) {
        int softener = dice.weighted(new Integer[] {0, 2, 3, 5, 7, 14}, 0.26, 0.1, 0.18, 0.26, 0.14, 0.06);
        Ears ears = dice.chance(0.8) ? patient.usualEars() : dice.weighted(Ears.values(), 0.3, 0.3, 0.4);
        Map<Ear, EarFindings> truth = new EnumMap<>(Ear.class);
        Map<Ear, EarFindings> reported = new EnumMap<>(Ear.class);
        for (Ear ear : ears.each()) {
            EarFindings inside = inside(patient, ear, softener, dice);
            truth.put(ear, inside);
            reported.put(ear, reportOf(inside, patient.seenBefore(), dice));
        }
        Method method = method(patient, practitioner, dice);
        return new InventedReferral(patient, method, ears, !patient.seenBefore(), softener, truth, reported, false);
    }

    /** Both ears by hand, loose and sticky wax deep in narrow canals: near an hour's work in half an hour's slot. */
    static InventedReferral slowCase(InventedPatient patient, Dice dice) {
        Map<Ear, EarFindings> truth = new EnumMap<>(Ear.class);
        boolean stickyRight = dice.chance(0.5);
        for (Ear ear : Ear.values()) {
            Wax wax = stickyRight == (ear == Ear.RIGHT) ? Wax.STICKY : Wax.LOOSE;
            truth.put(ear, new EarFindings(wax, patient.canal(ear), Depth.DEEP_CANAL, Occlusion.OCCLUDING));
        }
        return new InventedReferral(patient, Method.MANUAL_REMOVAL, Ears.BOTH, true, 5, truth, truth, true);
    }

    /** The usual slot: two ears by hand or by water 30 minutes, everything else 20. */
    int slotMinutes() {
        return ears == Ears.BOTH && method != Method.MICROSUCTION ? 30 : 20;
    }

    private static EarFindings inside(InventedPatient patient, Ear ear, int softener, Dice dice) {
        Wax wax = dice.chance(0.55) ? patient.usualWax() : dice.weighted(Wax.values(), 0.12, 0.2, 0.21, 0.25, 0.22);
        if (softener >= 3 && wax.ordinal() >= Wax.FIRM.ordinal() && dice.chance(0.3)) {
            wax = dice.one(List.of(Wax.SOFT, Wax.STICKY));
        }
        Depth depth = dice.weighted(Depth.values(), 0.36, 0.45, 0.19);
        Occlusion occlusion = dice.weighted(Occlusion.values(), 0.04, 0.34, 0.62);
        return new EarFindings(wax, patient.canal(ear), depth, occlusion);
    }

    /** Referrals leave much out and get some of it wrong; of a returning patient the canal is mostly known. */
    private static EarFindings reportOf(EarFindings truth, boolean seenBefore, Dice dice) {
        return new EarFindings(
                reported(truth.wax(), 0.42, 0.66, dice),
                reported(truth.canal(), seenBefore ? 0.6 : 0.2, seenBefore ? 0.9 : 0.7, dice),
                reported(truth.depth(), 0.26, 0.65, dice),
                reported(truth.occlusion(), 0.45, 0.75, dice));
    }

    private static <E extends Enum<E>> E reported(E truth, double known, double right, Dice dice) {
        return dice.chance(known) ? dice.nearly(truth, right) : null;
    }

    private static Method method(InventedPatient patient, Practitioner practitioner, Dice dice) {
        boolean noise = patient.has(Caution.NOISE_INTOLERANCE) || patient.has(Caution.TINNITUS);
        if (dice.chance(noise ? 0.6 : 0.22)) {
            return Method.MANUAL_REMOVAL;
        }
        boolean water = practitioner.methods().contains(Method.IRRIGATION.code())
                && patient.cautions().stream().noneMatch(NO_WATER::contains);
        return water && dice.chance(0.3) ? Method.IRRIGATION : Method.MICROSUCTION;
    }
}
