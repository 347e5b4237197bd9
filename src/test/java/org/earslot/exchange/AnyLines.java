package org.earslot.exchange;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.visit.EarRecord;
import org.jspecify.annotations.Nullable;

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
        boolean seen = random.nextBoolean();
        LocalTime calledIn = LocalTime.of(8 + random.nextInt(9), random.nextInt(60));
        boolean timed = random.nextInt(4) > 0;
        LocalTime finished = calledIn.plusMinutes(1 + random.nextInt(180));
        Attendance[] unseen = {
            Attendance.LATE_NOT_SEEN,
            Attendance.DID_NOT_ATTEND,
            Attendance.CANCELLED_BY_CLINIC,
            Attendance.CANCELLED_BY_PATIENT
        };
        Attendance[] attended = {Attendance.ATTENDED, Attendance.ATTENDED_LATE};
        List<Caution> cautions = new ArrayList<>(EnumSet.of(any(Caution.values()), any(Caution.values())));
        Collections.shuffle(cautions, random);
        return new VisitLine(
                visitRef,
                random.nextInt(5) == 0 ? "=K" + random.nextInt(9) : "K" + random.nextInt(9),
                LocalDate.of(2026, 1, 1).plusDays(random.nextInt(300)),
                any(new String[] {"P1", "-P2", "Ombrel, T."}),
                maybe(new String[] {"R1", "@R2"}),
                seen ? any(attended) : any(unseen),
                any(Method.values()),
                any(Ears.values()),
                any(Answer.values()),
                any(Answer.values()),
                random.nextBoolean() ? List.of() : cautions,
                List.of(),
                random.nextBoolean() ? null : Integer.valueOf(random.nextInt(400)),
                Map.of(Ear.RIGHT, findings(), Ear.LEFT, findings()),
                Map.of(Ear.RIGHT, record(), Ear.LEFT, record()),
                random.nextBoolean() ? null : LocalTime.of(random.nextInt(24), random.nextInt(60)),
                random.nextBoolean() ? null : Integer.valueOf(1 + random.nextInt(180)),
                random.nextBoolean() ? null : LocalTime.of(7, random.nextInt(60)),
                timed ? calledIn : null,
                timed ? finished : null,
                timed && random.nextBoolean() ? finished.plusMinutes(random.nextInt(60)) : null,
                maybe(StoppedEarly.values()),
                maybe(TEXTS));
    }

    private EarFindings findings() {
        return new EarFindings(
                maybe(Wax.values()), maybe(Canal.values()), maybe(Depth.values()), maybe(Occlusion.values()));
    }

    private EarRecord record() {
        List<Method> methods = new ArrayList<>();
        for (int left = random.nextInt(4); left > 0; left--) {
            methods.add(any(Method.values()));
        }
        return new EarRecord(methods, findings(), maybe(Outcome.values()), null);
    }

    private <T> T any(T[] all) {
        return all[random.nextInt(all.length)];
    }

    private <T> @Nullable T maybe(T[] all) {
        return random.nextBoolean() ? null : any(all);
    }
}
