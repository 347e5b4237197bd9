package org.earslot.demo;

import java.time.LocalDate;
import java.time.LocalTime;
import org.earslot.demo.ClinicFile.Session;

/** A booked place in a session. */
record Place(LocalDate date, Session session, LocalTime start, int slotMinutes, InventedReferral referral) {

    int startMinute() {
        return start.toSecondOfDay() / 60;
    }
}
