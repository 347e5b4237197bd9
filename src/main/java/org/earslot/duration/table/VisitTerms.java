package org.earslot.duration.table;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * All that is known of a visit but its minutes: a question to the estimator, or the left-hand side of a past visit.
 *
 * @param once terms of what is paid once; at most one per factor; may be empty
 * @param parts the parts whose times are added to it; may be empty (then all of the time is paid once)
 * @param group who does the work (the practitioner), null where not known: then any of them
 * @param person whose visit it is, null where not known: then somebody new
 * @param source who made the reports (the referrer), null where not known
 * @param day when, as a count of days from any fixed origin: the order in time, and the age for drift
 * @param lateness minutes late at call-in, at least 0; 0 when predicting
 */
public record VisitTerms(
        List<Term> once,
        List<Part> parts,
        @Nullable String group,
        @Nullable String person,
        @Nullable String source,
        long day,
        double lateness) {

    public VisitTerms {
        once = List.copyOf(once);
        parts = List.copyOf(parts);
        Named.nullOrNotBlank("group", group);
        Named.nullOrNotBlank("person", person);
        Named.nullOrNotBlank("source", source);
        if (!(lateness >= 0 && lateness < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("lateness is " + lateness + "; give a finite number of minutes from 0");
        }
    }

    /** Terms of a plain table: nobody known, no order, no lateness. */
    public static VisitTerms of(List<Term> once, List<Part> parts, @Nullable String group) {
        return new VisitTerms(once, parts, group, null, null, 0, 0);
    }

    /** This visit, as done by {@code other}. */
    public VisitTerms doneBy(@Nullable String other) {
        return new VisitTerms(once, parts, other, person, source, day, lateness);
    }

    /**
     * This visit with a level reported of a factor it mentions.
     *
     * @param part the part's name, "" for what is paid once
     */
    public VisitTerms reporting(String part, String factor, String level) {
        List<Part> answered = parts.stream()
                .map(each -> each.name().equals(part)
                        ? new Part(each.name(), each.kind(), each.used(), reporting(each.terms(), factor, level))
                        : each)
                .toList();
        return new VisitTerms(
                part.isEmpty() ? reporting(once, factor, level) : once, answered, group, person, source, day, lateness);
    }

    private static List<Term> reporting(List<Term> terms, String factor, String level) {
        return terms.stream()
                .map(term -> term.factor().equals(factor) ? Term.reported(factor, level) : term)
                .toList();
    }

    /** This visit as a past one. */
    public VisitRow took(double minutes, Ending ending) {
        return new VisitRow(this, minutes, ending, 1);
    }
}
