package org.earslot.exchange;

import static org.earslot.exchange.BookingColumn.BOOKING_ID;
import static org.earslot.exchange.BookingColumn.CAUTIONS;
import static org.earslot.exchange.BookingColumn.CONTACT;
import static org.earslot.exchange.BookingColumn.DATE;
import static org.earslot.exchange.BookingColumn.DATE_OF_BIRTH;
import static org.earslot.exchange.BookingColumn.EARS;
import static org.earslot.exchange.BookingColumn.FAMILY_NAME;
import static org.earslot.exchange.BookingColumn.GIVEN_NAME;
import static org.earslot.exchange.BookingColumn.LEFT_CANAL_REPORTED;
import static org.earslot.exchange.BookingColumn.LEFT_DEPTH_REPORTED;
import static org.earslot.exchange.BookingColumn.LEFT_OCCLUSION_REPORTED;
import static org.earslot.exchange.BookingColumn.LEFT_WAX_REPORTED;
import static org.earslot.exchange.BookingColumn.METHOD_PLANNED;
import static org.earslot.exchange.BookingColumn.NOTE;
import static org.earslot.exchange.BookingColumn.PATIENT_REF;
import static org.earslot.exchange.BookingColumn.PRACTITIONER;
import static org.earslot.exchange.BookingColumn.RIGHT_CANAL_REPORTED;
import static org.earslot.exchange.BookingColumn.RIGHT_DEPTH_REPORTED;
import static org.earslot.exchange.BookingColumn.RIGHT_OCCLUSION_REPORTED;
import static org.earslot.exchange.BookingColumn.RIGHT_WAX_REPORTED;
import static org.earslot.exchange.BookingColumn.ROOM;
import static org.earslot.exchange.BookingColumn.SLOT_MINUTES;
import static org.earslot.exchange.BookingColumn.START;
import static org.earslot.exchange.BookingColumn.STATUS;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.AppointmentStatus;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.earslot.exchange.csv.Cells;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.PatientDetails;
import org.jspecify.annotations.Nullable;

/**
 * One line of a diary that was kept elsewhere, sound in itself.
 *
 * @param unknownCautions of a booking made here: cautions stored in codes that are not known here, given out as they are
 */
record BookingLine(
        String bookingRef,
        String patientRef,
        PatientDetails person,
        LocalDateTime start,
        int slotMinutes,
        String practitioner,
        String room,
        Method method,
        Ears ears,
        Map<Ear, EarFindings> reported,
        Set<Caution> cautions,
        AppointmentStatus status,
        @Nullable String note,
        List<UnknownCode> unknownCautions) {

    /** No slot is longer, in minutes. */
    static final int LONGEST_SLOT = 180;

    private static final String OWN = "A";

    /** The line, or empty with everything that is wrong noted at the cells. */
    static Optional<BookingLine> read(Cells cells) {
        String bookingRef = BOOKING_ID.read(cells);
        String patientRef = PATIENT_REF.read(cells);
        LocalDate date = DATE.read(cells);
        LocalTime start = START.read(cells);
        Integer minutes = SLOT_MINUTES.read(cells);
        String practitioner = PRACTITIONER.read(cells);
        String room = ROOM.read(cells);
        Method method = METHOD_PLANNED.read(cells);
        Ears ears = EARS.read(cells);
        AppointmentStatus status = STATUS.read(cells);
        PatientDetails person = person(cells);
        EarFindings right = new EarFindings(
                RIGHT_WAX_REPORTED.read(cells),
                RIGHT_CANAL_REPORTED.read(cells),
                RIGHT_DEPTH_REPORTED.read(cells),
                RIGHT_OCCLUSION_REPORTED.read(cells));
        EarFindings left = new EarFindings(
                LEFT_WAX_REPORTED.read(cells),
                LEFT_CANAL_REPORTED.read(cells),
                LEFT_DEPTH_REPORTED.read(cells),
                LEFT_OCCLUSION_REPORTED.read(cells));
        Set<Caution> cautions = new LinkedHashSet<>(CAUTIONS.<List<Caution>>read(cells));
        if (start != null && minutes != null && start.toSecondOfDay() / 60 + minutes > 24 * 60) {
            cells.fault(SLOT_MINUTES.heading(), "the slot runs past midnight", "give a slot that ends on its day");
        }
        boolean sound = cells.faults().isEmpty();
        if (!sound || bookingRef == null || patientRef == null || date == null || start == null || minutes == null) {
            return Optional.empty();
        }
        if (practitioner == null || room == null || method == null || ears == null || status == null) {
            return Optional.empty();
        }
        return Optional.of(new BookingLine(
                bookingRef,
                patientRef,
                person,
                date.atTime(start),
                minutes,
                practitioner,
                room,
                method,
                ears,
                Map.of(Ear.RIGHT, right, Ear.LEFT, left),
                cautions,
                status,
                NOTE.read(cells),
                List.of()));
    }

    /** All cautions as they are stored, joined by semicolons. */
    String cautionCodes() {
        return UnknownCode.beside(List.copyOf(cautions), unknownCautions);
    }

    /** What was reported of {@code ear}. */
    EarFindings reported(Ear ear) {
        return reported.getOrDefault(ear, EarFindings.UNKNOWN);
    }

    /** What a booking made here goes out as. */
    static String ownRef(UUID appointmentId) {
        return OWN + appointmentId;
    }

    /** The appointment that such a reference stands for. */
    static Optional<UUID> ownId(String bookingRef) {
        try {
            return bookingRef.startsWith(OWN)
                    ? Optional.of(UUID.fromString(bookingRef.substring(OWN.length())))
                    : Optional.empty();
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }

    private static PatientDetails person(Cells cells) {
        return new PatientDetails(
                FAMILY_NAME.read(cells),
                GIVEN_NAME.read(cells),
                DATE_OF_BIRTH.read(cells),
                CONTACT.read(cells),
                null,
                null,
                Answer.NOT_KNOWN,
                ContactRoute.NOT_KNOWN,
                null,
                null,
                null,
                null,
                Answer.NOT_KNOWN);
    }
}
