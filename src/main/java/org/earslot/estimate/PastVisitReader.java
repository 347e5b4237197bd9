package org.earslot.estimate;

import java.time.Instant;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.estimate.PastVisit.PastEar;
import org.earslot.visit.VisitRecord;
import org.jspecify.annotations.Nullable;

/**
 * Reads visits that may be learnt from as the estimator learns from them. Equal texts and lists become one object, so that
 * a million visits need little memory. Not for use by several threads.
 */
public final class PastVisitReader {

    private final Map<String, String> texts = new HashMap<>();
    private final Map<String, Set<Caution>> cautions = new HashMap<>();
    private final Map<String, List<Method>> methods = new HashMap<>();

    /**
     * One visit.
     *
     * @param visit with both times known
     * @param practitioner by any name that stays the same
     * @param hand that practitioner's dominant hand, null where not known
     */
    public PastVisit read(VisitRecord visit, String practitioner, @Nullable Ear hand) {
        Instant booked = visit.bookedStart();
        String referrer = visit.referrer();
        return new PastVisit(
                visit.date(),
                same(practitioner),
                hand,
                visit.patientRef(),
                referrer == null || referrer.isBlank() ? null : same(referrer),
                visit.method(),
                visit.ears(),
                visit.firstVisit(),
                visit.hearingAid(),
                cautions.computeIfAbsent(visit.cautionCodes(), PastVisitReader::known),
                visit.softenerDays(),
                ear(visit, Ear.RIGHT),
                ear(visit, Ear.LEFT),
                visit.stoppedEarly(),
                visit.minutesInRoom(),
                booked == null ? 0 : Math.max(0, VisitRecord.minutes(booked, visit.calledIn())));
    }

    private PastEar ear(VisitRecord visit, Ear ear) {
        String codes = visit.methodCodes(ear);
        List<Method> used = methods.computeIfAbsent(
                codes == null ? "" : codes,
                all -> each(all).flatMap(code -> Method.of(code).stream()).toList());
        return new PastEar(visit.reported(ear), visit.found(ear), used);
    }

    private String same(String text) {
        return texts.computeIfAbsent(text, Function.identity());
    }

    private static Set<Caution> known(String codes) {
        Set<Caution> known = EnumSet.noneOf(Caution.class);
        each(codes).forEach(code -> Caution.of(code).ifPresent(known::add));
        return known.isEmpty() ? Set.of() : Set.copyOf(known);
    }

    private static Stream<String> each(String codes) {
        return Arrays.stream(codes.split(";")).filter(code -> !code.isEmpty());
    }
}
