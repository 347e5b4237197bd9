package org.earslot.demo;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Wax;

/** A person of the invented clinic: what stays the same from visit to visit. */
final class InventedPatient {

    private final String ref;
    private final boolean hearingAid;
    private final double pace;
    private final Wax usualWax;
    private final Ears usualEars;
    private final Map<Ear, Canal> canals = new EnumMap<>(Ear.class);
    private final List<Caution> cautions = new ArrayList<>();
    private boolean seenBefore;

    InventedPatient(String ref, boolean seenBefore, Dice dice) {
        this(ref, seenBefore, dice.normal(0.14), dice);
    }

    private InventedPatient(String ref, boolean seenBefore, double pace, Dice dice) {
        this.ref = ref;
        this.seenBefore = seenBefore;
        hearingAid = dice.chance(0.34);
        this.pace = pace;
        usualWax = dice.weighted(Wax.values(), 0.12, 0.2, 0.21, 0.25, 0.22);
        usualEars = dice.weighted(Ears.values(), 0.24, 0.22, 0.54);
        Canal canal = dice.weighted(Canal.values(), 0.14, 0.54, 0.24, 0.08);
        canals.put(Ear.RIGHT, canal);
        canals.put(Ear.LEFT, dice.nearly(canal, 0.85));
        drawCautions(dice);
    }

    /** The slow case of the demo: narrow canals and no liking for noise. */
    static InventedPatient slowCase(String ref, Dice dice) {
        InventedPatient patient = new InventedPatient(ref, false, 0, dice);
        patient.canals.replaceAll((ear, drawn) -> Canal.NARROW);
        patient.cautions.clear();
        patient.cautions.add(Caution.NOISE_INTOLERANCE);
        return patient;
    }

    private void drawCautions(Dice dice) {
        caution(Caution.PERFORATION, 0.025, dice);
        caution(Caution.HEALED_PERFORATION, 0.02, dice);
        caution(Caution.EAR_SURGERY, 0.015, dice);
        caution(Caution.MASTOID_CAVITY, 0.012, dice);
        caution(Caution.RECURRENT_OTITIS_EXTERNA, 0.02, dice);
        caution(Caution.TINNITUS, 0.09, dice);
        caution(Caution.NOISE_INTOLERANCE, 0.05, dice);
        caution(Caution.DIZZINESS, 0.03, dice);
        caution(Caution.ANTICOAGULANT, 0.09, dice);
        caution(Caution.DIABETES, 0.08, dice);
        caution(Caution.NEEDS_SUPPORT, 0.045, dice);
        if (canals.containsValue(Canal.VERY_NARROW)) {
            caution(Caution.CANAL_NARROWING, 0.25, dice);
        }
    }

    private void caution(Caution caution, double share, Dice dice) {
        if (dice.chance(share)) {
            cautions.add(caution);
        }
    }

    void wasSeen() {
        seenBefore = true;
    }

    String ref() {
        return ref;
    }

    boolean hearingAid() {
        return hearingAid;
    }

    boolean seenBefore() {
        return seenBefore;
    }

    /** The logarithm of how much longer than others this person takes. */
    double pace() {
        return pace;
    }

    Wax usualWax() {
        return usualWax;
    }

    Ears usualEars() {
        return usualEars;
    }

    Canal canal(Ear ear) {
        return canals.get(ear);
    }

    List<Caution> cautions() {
        return cautions;
    }

    boolean has(Caution caution) {
        return cautions.contains(caution);
    }
}
