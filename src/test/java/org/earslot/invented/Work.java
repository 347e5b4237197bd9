package org.earslot.invented;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;

/**
 * The work of one visit, drawn by luck: in the clinic's day once, in the perfect forecast many times over.
 *
 * @param minutes before practitioner's and person's pace, noise, hurry and tiredness
 * @param hazard of a stop for comfort or safety, per minute
 * @param used methods by ear
 * @param weight probability of the changes of method that were given, 1 if none were
 */
record Work(double minutes, double hazard, Map<Ear, List<Method>> used, double weight) {

    /** @param changed for each ear whether the method changed on the day, where that is known */
    static Work of(
            Luck luck,
            ClinicTruth truth,
            InventedVisit.Told told,
            Patient.Hidden hidden,
            Map<Ear, EarState> states,
            Map<Ear, Boolean> changed) {
        double softened = hidden.complies() ? truth.softened(told.softenerDays()) : 0;
        List<Ear> ears = told.ears().each();
        double[] minutes = new double[ears.size()];
        Map<Ear, List<Method>> used = new EnumMap<>(Ear.class);
        double unseenSum = 0;
        double weight = 1;
        for (int i = 0; i < minutes.length; i++) {
            Ear ear = ears.get(i);
            EarState state = states.get(ear);
            if (state == null) {
                throw new IllegalStateException("no state of the " + ear + " of visit " + told.number());
            }
            double unseen = luck.normal();
            Boolean known = changed.get(ear);
            if (known != null) {
                double chance = truth.switchChance(told.method(), state, unseen);
                weight *= known ? chance : 1 - chance;
            }
            ClinicTruth.EarWork work = truth.ear(
                    luck, told.practitioner(), told.method(), ear, state, unseen, softened, told.cautions(), known);
            minutes[i] = work.minutes();
            unseenSum += unseen;
            Method other = told.method() == Method.MICROSUCTION ? Method.MANUAL_REMOVAL : Method.MICROSUCTION;
            used.put(ear, work.switched() ? List.of(told.method(), other) : List.of(told.method()));
        }
        return new Work(
                truth.work(told.firstVisit(), told.hearingAid(), told.cautions(), minutes),
                truth.stopHazard[told.method().ordinal()] * Math.exp(0.4 * unseenSum / minutes.length),
                used,
                weight);
    }
}
