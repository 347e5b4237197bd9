package org.earslot.demo;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.earslot.demo.ClinicFile.Practitioner;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;

/** Lets visits happen: minutes, methods, early stops and outcomes, by the invented truth. */
final class InventedCourses {

    private static final List<String> SAFETY_NOTES = List.of(
            "small bleed, settled with pressure",
            "dizzy on the chair, rested ten minutes",
            "sharp pain deep in the canal, stopped");

    private final Dice dice;

    InventedCourses(Dice dice) {
        this.dice = dice;
    }

    private record Stop(double minutes, StoppedEarly why) {}

    /** A visit called in {@code lateness} minutes after its booked start. */
    Course of(InventedReferral referral, Practitioner practitioner, int slotMinutes, int lateness) {
        if (!referral.slowCase() && dice.chance(0.006)) {
            return unsuitable(referral);
        }
        Map<Ear, List<Method>> methods = new EnumMap<>(Ear.class);
        double location = once(referral);
        for (Ear ear : referral.ears().each()) {
            double ofEar = EarMinutes.of(ear, referral, practitioner.dominantHand());
            if (noWax(referral.truth().get(ear))) {
                methods.put(ear, List.of());
                location += ofEar * 0.3;
            } else {
                methods.put(ear, methods(referral.method(), practitioner));
                location += ofEar + 3.5 * (methods.get(ear).size() - 1);
            }
        }
        double hurry = -0.005 * Math.max(0, Math.min(lateness, 30));
        double log =
                effect(practitioner, referral.method()) + referral.patient().pace() + hurry + chance(referral);
        double whole = Math.min(110, location * StrictMath.exp(log));
        return ended(referral, methods, whole, stop(referral, whole, slotMinutes, lateness));
    }

    private double once(InventedReferral referral) {
        double minutes = referral.firstVisit() ? 5.4 : 4;
        if (referral.patient().hearingAid()) {
            minutes += 0.8;
        }
        return referral.patient().has(Caution.NEEDS_SUPPORT) ? minutes * 1.6 : minutes;
    }

    private static boolean noWax(EarFindings inside) {
        return inside.occlusion() == Occlusion.NONE;
    }

    private List<Method> methods(Method planned, Practitioner practitioner) {
        List<Method> used = new ArrayList<>(List.of(planned));
        switch (planned) {
            case IRRIGATION -> addWithChance(used, Method.MICROSUCTION, 0.08);
            case MICROSUCTION -> addWithChance(used, Method.MANUAL_REMOVAL, 0.09);
            case MANUAL_REMOVAL -> addWithChance(used, Method.MICROSUCTION, 0.06);
        }
        used.retainAll(practitioner.methods().stream()
                .map(code -> Method.of(code).orElseThrow())
                .toList());
        return used;
    }

    private void addWithChance(List<Method> used, Method second, double chance) {
        if (dice.chance(chance)) {
            used.add(second);
        }
    }

    /** Who works left-handed is the quickest by hand; who joined last is slower, by hand most. */
    private static double effect(Practitioner practitioner, Method method) {
        boolean byHand = method == Method.MANUAL_REMOVAL;
        if (practitioner.methods().size() < Method.values().length) {
            return byHand ? 0.17 : 0.07;
        }
        return practitioner.dominantHand().equals("left") ? (byHand ? -0.06 : 0.03) : (byHand ? 0.03 : -0.06);
    }

    private double chance(InventedReferral referral) {
        double sd = switch (referral.method()) {
            case IRRIGATION -> 0.25;
            case MICROSUCTION -> 0.29;
            case MANUAL_REMOVAL -> 0.32;
        };
        if (referral.slowCase()) {
            return dice.normal(sd / 4);
        }
        // One stubborn visit in twenty-five.
        return dice.normal(sd) + (dice.chance(0.04) ? 0.5 : 0);
    }

    private Stop stop(InventedReferral referral, double whole, int slotMinutes, int lateness) {
        double comfort = dice.exponential(referral.method() == Method.MANUAL_REMOVAL ? 190 : 230);
        double safety = dice.exponential(1800);
        boolean hurried = lateness >= 20 && whole > slotMinutes && dice.chance(0.35);
        Stop stop = new Stop(whole, StoppedEarly.NO);
        if (referral.slowCase()) {
            return stop;
        }
        if (hurried) {
            stop = new Stop(slotMinutes, StoppedEarly.TIME);
        }
        if (comfort < stop.minutes()) {
            stop = new Stop(comfort, StoppedEarly.COMFORT);
        }
        return safety < stop.minutes() ? new Stop(safety, StoppedEarly.SAFETY) : stop;
    }

    private Course ended(InventedReferral referral, Map<Ear, List<Method>> methods, double whole, Stop stop) {
        int minutes = (int) Math.max(3, Math.round(stop.minutes()));
        Map<Ear, Outcome> outcomes = new EnumMap<>(Ear.class);
        List<Ear> ears = referral.ears().each();
        for (int i = 0; i < ears.size(); i++) {
            // Ears are done one after the other: how much of this one's share had passed at the end.
            double done = stop.minutes() / whole * ears.size() - i;
            Ear ear = ears.get(i);
            if (methods.get(ear).isEmpty()) {
                outcomes.put(ear, Outcome.NO_WAX);
            } else if (stop.why() == StoppedEarly.NO || done >= 1) {
                outcomes.put(ear, completed(referral.method()));
            } else {
                outcomes.put(
                        ear, done <= 0.2 ? Outcome.NOT_ATTEMPTED : done < 0.6 ? Outcome.NOT_REMOVED : Outcome.RESIDUAL);
            }
            if (outcomes.get(ear) == Outcome.NOT_ATTEMPTED) {
                methods.put(ear, List.of());
            }
        }
        return new Course(minutes, methods, stop.why(), outcomes, note(stop.why()));
    }

    private Outcome completed(Method method) {
        double clear = method == Method.IRRIGATION ? 0.84 : 0.91;
        return dice.chance(clear) ? Outcome.CLEAR : dice.chance(0.8) ? Outcome.RESIDUAL : Outcome.NOT_REMOVED;
    }

    private String note(StoppedEarly why) {
        if (why == StoppedEarly.SAFETY) {
            return dice.one(SAFETY_NOTES);
        }
        if (dice.chance(0.004)) {
            return "small graze, aftercare advice given";
        }
        return dice.chance(0.01) ? "said \"much better, thank you\"" : "";
    }

    private Course unsuitable(InventedReferral referral) {
        Map<Ear, Outcome> outcomes = new EnumMap<>(Ear.class);
        Map<Ear, List<Method>> methods = new EnumMap<>(Ear.class);
        for (Ear ear : referral.ears().each()) {
            outcomes.put(ear, Outcome.UNSUITABLE_ON_DAY);
            methods.put(ear, List.of());
        }
        return new Course(
                dice.between(4, 9), methods, StoppedEarly.NO, outcomes, "canal sore, to come again in two weeks");
    }
}
