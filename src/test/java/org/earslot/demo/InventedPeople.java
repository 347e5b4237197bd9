package org.earslot.demo;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.PriorityQueue;
import org.earslot.ear.Outcome;

/** Everyone the invented clinic knows, and when each of them is due again. */
final class InventedPeople {

    private record Due(LocalDate date, InventedPatient patient) {}

    private final Dice dice;
    private final LocalDate opening;
    private final List<InventedPatient> known = new ArrayList<>();
    private final PriorityQueue<Due> due = new PriorityQueue<>(
            Comparator.comparing(Due::date).thenComparing(one -> one.patient().ref()));

    InventedPeople(LocalDate opening, Dice dice) {
        this.opening = opening;
        this.dice = dice;
    }

    /** Who is booked on {@code date}: mostly someone due again, else someone new to the log. */
    InventedPatient next(LocalDate date) {
        Due first = due.peek();
        if (first != null && !first.date().isAfter(date) && dice.chance(0.88)) {
            due.remove();
            return first.patient();
        }
        // The clinic is older than its log: at first many a new line is a person seen before.
        boolean early = date.isBefore(opening.plusWeeks(30));
        return known(new InventedPatient(nextRef(), dice.chance(early ? 0.45 : 0.1), dice));
    }

    InventedPatient slowCase() {
        return known(InventedPatient.slowCase(nextRef(), dice));
    }

    /** After a visit: back within weeks where wax is left, else perhaps months later. */
    void seen(InventedPatient patient, LocalDate date, Iterable<Outcome> outcomes) {
        patient.wasSeen();
        boolean left = false;
        for (Outcome outcome : outcomes) {
            left |= outcome != Outcome.CLEAR && outcome != Outcome.NO_WAX;
        }
        if (left && dice.chance(0.65)) {
            due.add(new Due(date.plusDays(dice.between(7, 24)), patient));
        } else if (dice.chance(0.85)) {
            due.add(new Due(date.plusDays(dice.between(90, 330)), patient));
        }
    }

    /** After a visit that did not come about: often booked again. */
    void missed(InventedPatient patient, LocalDate date) {
        if (dice.chance(0.55)) {
            due.add(new Due(date.plusDays(dice.between(5, 30)), patient));
        }
    }

    private InventedPatient known(InventedPatient patient) {
        known.add(patient);
        return patient;
    }

    private String nextRef() {
        return String.format("K%04d", known.size() + 1);
    }
}
