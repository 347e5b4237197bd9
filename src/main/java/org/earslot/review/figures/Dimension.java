package org.earslot.review.figures;

import com.fasterxml.jackson.annotation.JsonValue;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.stream.IntStream;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;

/** What visits are grouped by. A group is named by a word's code, a name or an hour; the empty one is "not known". */
public enum Dimension {
    METHOD("method", "Method", codes(Method.values())),
    EARS("ears", "Ears", codes(Ears.values())),
    WAX("wax", "Wax", codes(Wax.values())),
    CANAL("canal", "Canal", codes(Canal.values())),
    DEPTH("depth", "Depth", codes(Depth.values())),
    PRACTITIONER("practitioner", "", List.of()),
    HOUR("hour", "", List.of()),
    REFERRER("referrer", "", List.of());

    private static final List<List<String>> HOURS = IntStream.range(0, 24)
            .mapToObj(hour -> List.of("%02d:00".formatted(hour)))
            .toList();

    private final String code;
    private final String words;
    private final List<String> order;

    Dimension(String code, String words, List<String> order) {
        this.code = code;
        this.words = words;
        this.order = order;
    }

    /** Names the dimension in message files and in the interface for programs. */
    @JsonValue
    public String code() {
        return code;
    }

    /** The type of word that a group's key is the code of; empty where keys are shown as they are. */
    public String words() {
        return words;
    }

    /** The groups in the order of their scale; where there is none, as they sort. */
    List<String> order() {
        return order;
    }

    /** The groups a visit belongs to: more than one where its two ears differ. */
    List<String> groups(MeasuredVisit visit, ZoneId zone) {
        return switch (this) {
            case METHOD -> List.of(visit.method().code());
            case EARS -> List.of(visit.ears().code());
            case WAX -> found(visit.wax());
            case CANAL -> found(visit.canal());
            case DEPTH -> found(visit.depth());
            case PRACTITIONER -> List.of(visit.practitioner());
            case HOUR ->
                visit.bookedStart() == null
                        ? List.of("")
                        : HOURS.get(
                                LocalTime.ofInstant(visit.bookedStart(), zone).getHour());
            case REFERRER -> List.of(visit.referrer() == null ? "" : visit.referrer());
        };
    }

    private static List<String> found(Collection<? extends Word> words) {
        return words.isEmpty() ? List.of("") : words.stream().map(Word::code).toList();
    }

    private static List<String> codes(Word[] words) {
        return Arrays.stream(words).map(Word::code).toList();
    }
}
