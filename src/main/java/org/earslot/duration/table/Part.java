package org.earslot.duration.table;

import java.util.List;

/**
 * A part of a visit with a time of its own (an ear); the parts' times add up.
 *
 * @param name tells the parts of one visit apart and is the same from visit to visit of a person ("right", "left"):
 *     what was found in a part is remembered under the person and this name
 * @param kind the kind of work planned (the method); effects may differ by kind
 * @param used the kinds of work done in the end, in their order; empty before the visit, or where nobody wrote it down
 * @param terms what is known of this part; at most one per factor
 */
public record Part(String name, String kind, List<String> used, List<Term> terms) {

    public Part {
        Named.notBlank("part", name);
        Named.notBlank("kind of part " + name, kind);
        used = List.copyOf(used);
        terms = List.copyOf(terms);
    }

    /** A part as planned. */
    public static Part planned(String name, String kind, Term... terms) {
        return new Part(name, kind, List.of(), List.of(terms));
    }
}
