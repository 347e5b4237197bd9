package org.earslot.exchange;

import static org.earslot.exchange.VisitColumn.ARRIVED;
import static org.earslot.exchange.VisitColumn.ATTENDANCE;
import static org.earslot.exchange.VisitColumn.BOOKED_START;
import static org.earslot.exchange.VisitColumn.CALLED_IN;
import static org.earslot.exchange.VisitColumn.CAUTIONS;
import static org.earslot.exchange.VisitColumn.DATE;
import static org.earslot.exchange.VisitColumn.EARS;
import static org.earslot.exchange.VisitColumn.FINISHED;
import static org.earslot.exchange.VisitColumn.FIRST_VISIT;
import static org.earslot.exchange.VisitColumn.HEARING_AID;
import static org.earslot.exchange.VisitColumn.METHOD_PLANNED;
import static org.earslot.exchange.VisitColumn.NOTE;
import static org.earslot.exchange.VisitColumn.PATIENT_REF;
import static org.earslot.exchange.VisitColumn.PRACTITIONER;
import static org.earslot.exchange.VisitColumn.ROOM;
import static org.earslot.exchange.VisitColumn.ROOM_READY;
import static org.earslot.exchange.VisitColumn.SLOT_MINUTES;
import static org.earslot.exchange.VisitColumn.SOFTENER_DAYS;
import static org.earslot.exchange.VisitColumn.STOPPED_EARLY;
import static org.earslot.exchange.VisitColumn.VISIT_ID;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Word;
import org.earslot.exchange.csv.CellType;

/** Lines of visit logs drawn at random, every value that a log allows among them. */
final class AnyLines {

    private static final String[] TEXTS = {
        "=2+5",
        "'=1",
        "-",
        "@all",
        "+44",
        "''",
        "said \"fine, thanks\",\nwill ring",
        "\r\n",
        " ",
        "caf\u00e9 \u4e2d \ud83d\ude00",
        ";",
        "a\tb"
    };

    private final Random random;

    AnyLines(long seed) {
        random = new Random(seed);
    }

    VisitLine line(String visitRef) {
        Map<VisitColumn, Object> values = new EnumMap<>(VisitColumn.class);
        values.put(VISIT_ID, visitRef);
        values.put(PATIENT_REF, random.nextInt(5) == 0 ? "=K" + random.nextInt(9) : "K" + random.nextInt(9));
        values.put(DATE, LocalDate.of(2026, 1, 1).plusDays(random.nextInt(300)));
        values.put(PRACTITIONER, any(new String[] {"P1", "-P2", "Ombrel, T."}));
        maybe(values, ROOM, () -> any(new String[] {"R1", "@R2"}));
        values.put(ATTENDANCE, any(Attendance.values()));
        values.put(METHOD_PLANNED, any(Method.values()));
        values.put(EARS, any(Ears.values()));
        values.put(FIRST_VISIT, any(Answer.values()));
        values.put(HEARING_AID, any(Answer.values()));
        values.put(CAUTIONS, random.nextBoolean() ? List.of() : cautions());
        maybe(values, SOFTENER_DAYS, () -> random.nextInt(400));
        for (VisitColumn column : VisitColumn.values()) {
            if (column.isPerEar()) {
                ofAnEar(values, column);
            }
        }
        maybe(values, BOOKED_START, () -> LocalTime.of(random.nextInt(24), random.nextInt(60)));
        maybe(values, SLOT_MINUTES, () -> 1 + random.nextInt(180));
        maybe(values, ARRIVED, () -> LocalTime.of(7, random.nextInt(60)));
        if (random.nextInt(4) > 0) {
            LocalTime calledIn = LocalTime.of(8 + random.nextInt(9), random.nextInt(60));
            LocalTime finished = calledIn.plusMinutes(1 + random.nextInt(180));
            values.put(CALLED_IN, calledIn);
            values.put(FINISHED, finished);
            maybe(values, ROOM_READY, () -> finished.plusMinutes(random.nextInt(60)));
        }
        maybe(values, STOPPED_EARLY, () -> any(StoppedEarly.values()));
        maybe(values, NOTE, () -> any(TEXTS));
        return new VisitLine(values);
    }

    private List<Caution> cautions() {
        List<Caution> cautions = new ArrayList<>(EnumSet.of(any(Caution.values()), any(Caution.values())));
        Collections.shuffle(cautions, random);
        return cautions;
    }

    private void ofAnEar(Map<VisitColumn, Object> values, VisitColumn column) {
        Word[] words = column.type().words().toArray(Word[]::new);
        if (column.type().shape() == CellType.Shape.WORDS) {
            values.put(
                    column,
                    Stream.generate(() -> any(words)).limit(random.nextInt(4)).toList());
        } else {
            maybe(values, column, () -> any(words));
        }
    }

    private <T> T any(T[] all) {
        return all[random.nextInt(all.length)];
    }

    private void maybe(Map<VisitColumn, Object> values, VisitColumn column, Supplier<Object> value) {
        if (random.nextBoolean()) {
            values.put(column, value.get());
        }
    }
}
