package org.earslot.exchange;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.AppointmentStatus;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.exchange.csv.Cells;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.PatientDetails;
import org.jspecify.annotations.Nullable;

/** One line of a diary that was kept elsewhere, sound in itself. */
record BookingLineBefore(
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
        @Nullable String note) {

    static final List<String> REQUIRED = List.of(
            "booking_id",
            "patient_ref",
            "date",
            "start",
            "slot_minutes",
            "practitioner",
            "room",
            "method_planned",
            "ears",
            "status");

    static final List<String> COLUMNS = List.of(
            "booking_id",
            "patient_ref",
            "family_name",
            "given_name",
            "date_of_birth",
            "contact",
            "date",
            "start",
            "slot_minutes",
            "practitioner",
            "room",
            "method_planned",
            "ears",
            "right_wax_reported",
            "right_canal_reported",
            "right_depth_reported",
            "right_occlusion_reported",
            "left_wax_reported",
            "left_canal_reported",
            "left_depth_reported",
            "left_occlusion_reported",
            "cautions",
            "status",
            "note");

    private static final int LONGEST_SLOT = 180;
    private static final String OWN = "A";

    /** The line, or empty with everything that is wrong noted at the cells. */
    static Optional<BookingLineBefore> read(Cells cells) {
        String bookingRef = cells.requiredName("booking_id");
        String patientRef = cells.requiredName("patient_ref");
        LocalDate date = cells.requiredDate("date");
        LocalTime start = required(cells, "start", cells.time("start"));
        Integer minutes = required(cells, "slot_minutes", cells.whole("slot_minutes", 1, LONGEST_SLOT));
        String practitioner = cells.requiredName("practitioner");
        String room = cells.requiredName("room");
        Method method = cells.requiredWord("method_planned", Method.values());
        Ears ears = cells.requiredWord("ears", Ears.values());
        AppointmentStatus status = cells.requiredWord("status", AppointmentStatus.values());
        PatientDetails person = person(cells);
        Map<Ear, EarFindings> reported =
                Map.of(Ear.RIGHT, reported(cells, Ear.RIGHT), Ear.LEFT, reported(cells, Ear.LEFT));
        Set<Caution> cautions = new LinkedHashSet<>(cells.words("cautions", Caution.values()));
        if (start != null && minutes != null && start.toSecondOfDay() / 60 + minutes > 24 * 60) {
            cells.fault("slot_minutes", "the slot runs past midnight", "give a slot that ends on its day");
        }
        boolean sound = cells.faults().isEmpty();
        if (!sound || bookingRef == null || patientRef == null || date == null || start == null || minutes == null) {
            return Optional.empty();
        }
        if (practitioner == null || room == null || method == null || ears == null || status == null) {
            return Optional.empty();
        }
        return Optional.of(new BookingLineBefore(
                bookingRef,
                patientRef,
                person,
                date.atTime(start),
                minutes,
                practitioner,
                room,
                method,
                ears,
                reported,
                cautions,
                status,
                cells.text("note")));
    }

    /** The line's cells in the order of {@link #COLUMNS}. */
    List<String> cells() {
        List<String> cells = new ArrayList<>(COLUMNS.size());
        cells.addAll(List.of(bookingRef, patientRef, text(person.familyName()), text(person.givenName())));
        cells.addAll(List.of(text(person.dateOfBirth()), text(person.contact())));
        cells.addAll(List.of(text(start.toLocalDate()), text(start.toLocalTime()), text(slotMinutes)));
        cells.addAll(List.of(practitioner, room, method.code(), ears.code()));
        for (Ear ear : Ear.values()) {
            EarFindings said = reported.getOrDefault(ear, EarFindings.UNKNOWN);
            cells.addAll(List.of(code(said.wax()), code(said.canal()), code(said.depth()), code(said.occlusion())));
        }
        cells.add(cautions.stream().map(Caution::code).collect(Collectors.joining(";")));
        cells.addAll(List.of(status.code(), text(note)));
        return cells;
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

    private static String code(@Nullable Word word) {
        return word == null ? "" : word.code();
    }

    private static String text(@Nullable Object value) {
        return value == null ? "" : value.toString();
    }

    private static PatientDetails person(Cells cells) {
        return new PatientDetails(
                cells.name("family_name"),
                cells.name("given_name"),
                cells.date("date_of_birth"),
                cells.name("contact"),
                null,
                Answer.NOT_KNOWN,
                ContactRoute.NOT_KNOWN,
                null,
                null,
                null,
                null,
                Answer.NOT_KNOWN);
    }

    private static EarFindings reported(Cells cells, Ear ear) {
        return new EarFindings(
                cells.word(ear.code() + "_wax_reported", Wax.values()),
                cells.word(ear.code() + "_canal_reported", Canal.values()),
                cells.word(ear.code() + "_depth_reported", Depth.values()),
                cells.word(ear.code() + "_occlusion_reported", Occlusion.values()));
    }

    private static <T> @Nullable T required(Cells cells, String column, @Nullable T value) {
        if (value == null && cells.cell(column).isEmpty()) {
            cells.fault(column, "the cell is empty", "fill it in");
        }
        return value;
    }
}
