package org.earslot.exchange;

import static org.earslot.exchange.csv.CellType.NAME;
import static org.earslot.exchange.csv.CellType.TEXT;
import static org.earslot.exchange.csv.CellType.TIME;
import static org.earslot.exchange.csv.CellType.personal;
import static org.earslot.exchange.csv.CellType.required;
import static org.earslot.exchange.csv.CellType.whole;
import static org.earslot.exchange.csv.CellType.word;
import static org.earslot.exchange.csv.CellType.words;

import java.util.List;
import java.util.function.Function;
import org.earslot.booking.AppointmentStatus;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.exchange.csv.CellType;
import org.earslot.exchange.csv.Column;
import org.jspecify.annotations.Nullable;

/** The columns of a file of bookings in the order in which they are written, for import and export. */
public enum BookingColumn implements Column<BookingLine> {
    BOOKING_ID(required(NAME), BookingLine::bookingRef),
    PATIENT_REF(required(NAME), BookingLine::patientRef),
    FAMILY_NAME(personal(NAME), line -> line.person().familyName()),
    GIVEN_NAME(personal(NAME), line -> line.person().givenName()),
    DATE_OF_BIRTH(personal(CellType.DATE), line -> line.person().dateOfBirth()),
    CONTACT(personal(NAME), line -> line.person().contact()),
    DATE(required(CellType.DATE), line -> line.start().toLocalDate()),
    START(required(TIME), line -> line.start().toLocalTime()),
    SLOT_MINUTES(required(whole(1, BookingLine.LONGEST_SLOT)), BookingLine::slotMinutes),
    PRACTITIONER(required(NAME), BookingLine::practitioner),
    ROOM(required(NAME), BookingLine::room),
    METHOD_PLANNED(required(word(Method.values())), BookingLine::method),
    EARS(required(word(Ears.values())), BookingLine::ears),
    RIGHT_WAX_REPORTED(word(Wax.values()), line -> line.reported(Ear.RIGHT).wax()),
    RIGHT_CANAL_REPORTED(word(Canal.values()), line -> line.reported(Ear.RIGHT).canal()),
    RIGHT_DEPTH_REPORTED(word(Depth.values()), line -> line.reported(Ear.RIGHT).depth()),
    RIGHT_OCCLUSION_REPORTED(
            word(Occlusion.values()), line -> line.reported(Ear.RIGHT).occlusion()),
    LEFT_WAX_REPORTED(word(Wax.values()), line -> line.reported(Ear.LEFT).wax()),
    LEFT_CANAL_REPORTED(word(Canal.values()), line -> line.reported(Ear.LEFT).canal()),
    LEFT_DEPTH_REPORTED(word(Depth.values()), line -> line.reported(Ear.LEFT).depth()),
    LEFT_OCCLUSION_REPORTED(
            word(Occlusion.values()), line -> line.reported(Ear.LEFT).occlusion()),
    /** A code that is not known here goes out as it is stored: a file must not read as if there were no caution. */
    CAUTIONS(words(Caution.values()), line -> List.copyOf(line.cautions())) {
        @Override
        public String cell(BookingLine line) {
            return line.cautionCodes();
        }
    },
    STATUS(required(word(AppointmentStatus.values())), BookingLine::status),
    NOTE(TEXT, BookingLine::note);

    private final Part<BookingLine> part;

    <T> BookingColumn(CellType<T> type, Function<BookingLine, @Nullable T> value) {
        part = Part.of(name(), type, value);
    }

    /** The headings of all columns. */
    public static List<String> headings() {
        return Column.headings(values());
    }

    /** The headings of the columns without which no line can go in. */
    public static List<String> requiredHeadings() {
        return Column.required(values());
    }

    /** The cells of a line. */
    static List<String> cells(BookingLine line) {
        return Column.cells(line, List.of(values()));
    }

    @Override
    public Part<BookingLine> part() {
        return part;
    }
}
