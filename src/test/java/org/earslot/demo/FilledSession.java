package org.earslot.demo;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import org.earslot.demo.ClinicFile.Practitioner;
import org.earslot.demo.ClinicFile.Session;
import org.earslot.demo.ClinicFile.Span;

/** Fills sessions with patients in the fixed slots the clinic has used so far. */
final class FilledSession {

    private static final int SHORT_SLOT = 20;

    private final ClinicFile clinic;
    private final InventedPeople people;
    private final Dice dice;

    FilledSession(ClinicFile clinic, InventedPeople people, Dice dice) {
        this.clinic = clinic;
        this.people = people;
        this.dice = dice;
    }

    /** Places of which about the share {@code density} is taken. */
    List<Place> filled(Session session, LocalDate date, double density) {
        List<Place> places = new ArrayList<>();
        for (Span stretch : session.stretches()) {
            fill(places, session, date, stretch, density);
        }
        return places;
    }

    /** A full morning whose third patient is the slow case, in the usual slot, with the next one right behind. */
    List<Place> withSlowCase(Session session, LocalDate date) {
        Practitioner practitioner = clinic.practitioner(session.practitioner());
        List<Place> places = new ArrayList<>();
        Span first = session.stretches().get(0);
        LocalTime at = first.from();
        for (int i = 0; i < 2; i++) {
            InventedReferral usual = InventedReferral.drawn(people.next(date), practitioner, dice);
            places.add(new Place(date, session, at, SHORT_SLOT, usual));
            at = at.plusMinutes(SHORT_SLOT);
        }
        InventedReferral slow = InventedReferral.slowCase(people.slowCase(), dice);
        places.add(new Place(date, session, at, slow.slotMinutes(), slow));
        fill(places, session, date, new Span(at.plusMinutes(slow.slotMinutes()), first.to()), 1);
        fill(places, session, date, session.stretches().get(1), 1);
        return places;
    }

    private void fill(List<Place> places, Session session, LocalDate date, Span stretch, double density) {
        Practitioner practitioner = clinic.practitioner(session.practitioner());
        LocalTime at = stretch.from();
        while (minutes(at, stretch.to()) >= SHORT_SLOT) {
            if (!dice.chance(density)) {
                at = at.plusMinutes(SHORT_SLOT);
                continue;
            }
            InventedReferral referral = InventedReferral.drawn(people.next(date), practitioner, dice);
            // What does not fit before the break is squeezed into what is left: so the clinic has always done it.
            int slot = minutes(at, stretch.to()) < referral.slotMinutes() ? SHORT_SLOT : referral.slotMinutes();
            places.add(new Place(date, session, at, slot, referral));
            at = at.plusMinutes(slot);
        }
    }

    private static int minutes(LocalTime from, LocalTime to) {
        return (int) Duration.between(from, to).toMinutes();
    }
}
