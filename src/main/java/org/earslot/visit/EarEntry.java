package org.earslot.visit;

import jakarta.persistence.Embeddable;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.Wax;
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
    private @Nullable AdverseEvent adverseEvent;

    protected EarEntry() {}

    EarEntry(EarFindings reported) {
        waxReported = reported.wax();
        canalReported = reported.canal();
        depthReported = reported.depth();
        occlusionReported = reported.occlusion();
    }

    void record(EarRecord record) {
        methods = record.methods().isEmpty()
                ? null
                : record.methods().stream().map(Method::code).collect(Collectors.joining(";"));
        waxFound = record.found().wax();
        canalFound = record.found().canal();
        depthFound = record.found().depth();
        occlusionFound = record.found().occlusion();
        outcome = record.outcome();
        adverseEvent = record.adverseEvent();
    }

    EarFindings reported() {
        return new EarFindings(waxReported, canalReported, depthReported, occlusionReported);
    }

    EarRecord recorded() {
        List<Method> used = methods == null
                ? List.of()
                : Arrays.stream(methods.split(";"))
                        .map(code -> Method.of(code).orElseThrow())
                        .toList();
        EarFindings found = new EarFindings(waxFound, canalFound, depthFound, occlusionFound);
        return new EarRecord(used, found, outcome, adverseEvent);
    }
}
