package org.earslot.visit;

import jakarta.persistence.Embeddable;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.UnsuitableReason;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** The columns of one ear in the row of a visit. */
@Embeddable
class EarEntry {

    private @Nullable Wax waxReported;
    private @Nullable Canal canalReported;
    private @Nullable Depth depthReported;
    private @Nullable Occlusion occlusionReported;
    private @Nullable String methods;
    private @Nullable Wax waxFound;
    private @Nullable Canal canalFound;
    private @Nullable Depth depthFound;
    private @Nullable Occlusion occlusionFound;
    private @Nullable Outcome outcome;
    private @Nullable String adverseEvents;
    private @Nullable String cautionsFound;
    private @Nullable UnsuitableReason unsuitableReason;

    protected EarEntry() {}

    /** Replaces what the referral said. */
    void report(EarFindings reported) {
        waxReported = reported.wax();
        canalReported = reported.canal();
        depthReported = reported.depth();
        occlusionReported = reported.occlusion();
    }

    void record(EarRecord record) {
        methods = joined(record.methods().stream(), List.of());
        waxFound = record.found().wax();
        canalFound = record.found().canal();
        depthFound = record.found().depth();
        occlusionFound = record.found().occlusion();
        outcome = record.outcome();
        adverseEvents =
                joined(record.adverseEvents().stream(), UnknownCode.among(codes(adverseEvents), AdverseEvent.values()));
        cautionsFound = joined(record.cautionsFound().stream().sorted(), unknownFound());
        unsuitableReason = record.unsuitable();
    }

    EarFindings reported() {
        return new EarFindings(waxReported, canalReported, depthReported, occlusionReported);
    }

    EarRecord recorded() {
        EarFindings found = new EarFindings(waxFound, canalFound, depthFound, occlusionFound);
        return new EarRecord(
                codes(methods).flatMap(code -> Method.of(code).stream()).toList(),
                found,
                outcome,
                codes(adverseEvents)
                        .flatMap(code -> AdverseEvent.of(code).stream())
                        .toList(),
                codes(cautionsFound).flatMap(code -> Caution.of(code).stream()).collect(Collectors.toUnmodifiableSet()),
                unsuitableReason);
    }

    /** What is stored as found in codes that are not known here. */
    List<UnknownCode> unknownFound() {
        return UnknownCode.among(codes(cautionsFound), Caution.values());
    }

    /** @param unknown codes stored before that are not known here: they stay */
    private static @Nullable String joined(Stream<? extends Word> words, List<UnknownCode> unknown) {
        String codes = Stream.concat(words.map(Word::code), unknown.stream().map(UnknownCode::code))
                .collect(Collectors.joining(";"));
        return codes.isEmpty() ? null : codes;
    }

    private static Stream<String> codes(@Nullable String joined) {
        return joined == null ? Stream.empty() : Arrays.stream(joined.split(";"));
    }
}
