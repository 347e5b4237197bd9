package org.earslot.ear;

import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** What went wrong, if anything; {@link #INFECTION} is often known only days later. */
public enum AdverseEvent implements Word {
    NONE("none"),
    PAIN("pain"),
    BLEED("bleed"),
    SUSPECTED_PERFORATION("suspected_perforation"),
    DIZZINESS("dizziness"),
    FAINT("faint"),
    TINNITUS("tinnitus"),
    HEARING_WORSE("hearing_worse"),
    INFECTION("infection"),
    OTHER("other");

    /** The most serious first (common practice, no source): for where only one can be named. */
    private static final List<AdverseEvent> BY_SERIOUSNESS = List.of(
            HEARING_WORSE, SUSPECTED_PERFORATION, BLEED, FAINT, INFECTION, DIZZINESS, TINNITUS, PAIN, OTHER, NONE);

    private final String code;

    AdverseEvent(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether something went wrong. */
    public boolean harmed() {
        return this != NONE;
    }

    /** Each of these once, the most serious first; {@link #NONE} only if nothing else is said. */
    public static List<AdverseEvent> bySeriousness(Collection<AdverseEvent> events) {
        boolean harmed = events.stream().anyMatch(AdverseEvent::harmed);
        return events.stream()
                .filter(event -> event.harmed() || !harmed)
                .distinct()
                .sorted(Comparator.comparing(BY_SERIOUSNESS::indexOf))
                .toList();
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<AdverseEvent> of(String code) {
        return Word.find(values(), code);
    }
}
