package org.earslot.estimate;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.earslot.duration.knowledge.ElicitedMinutes;
import org.earslot.duration.knowledge.ExpertKnowledge;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitTerms;
import org.earslot.ear.Canal;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/**
 * What the lead says of the clinic's minutes in the room, kind of visit by kind.
 *
 * @param minutes by kind; a kind left out has none
 */
public record LeadAnswers(SortedMap<Kind, Minutes> minutes) {

    /** The least and the most that may be said, in minutes. */
    public static final int LEAST = 1;

    public static final int MOST = 180;

    /** Nothing said. */
    public static final LeadAnswers NONE = new LeadAnswers(new TreeMap<>());

    /** What is asked about for each method. */
    public enum About implements Word {
        ONE,
        BOTH,
        HARD,
        NARROW;

        @Override
        public String code() {
            return name().toLowerCase(java.util.Locale.ROOT);
        }

        /** The ears of such a visit. */
        public Ears ears() {
            return this == BOTH ? Ears.BOTH : Ears.RIGHT;
        }

        /** What is certain of each ear; null where only how many there are is. */
        private @Nullable Term certain() {
            return switch (this) {
                case ONE, BOTH -> null;
                case HARD -> Term.level(Factors.WAX, Wax.HARD.code());
                case NARROW -> Term.level(Factors.CANAL, Canal.NARROW.code());
            };
        }
    }

    /** A method with one ear, with both, or with one ear that is slow. */
    public record Kind(Method method, About about) implements Comparable<Kind> {

        /** All kinds, in the order in which they are asked about. */
        public static List<Kind> all() {
            List<Kind> all = new ArrayList<>();
            for (Method method : Method.values()) {
                for (About about : About.values()) {
                    all.add(new Kind(method, about));
                }
            }
            return all;
        }

        /** Names it in forms and in what is stored: {@code microsuction-both}. */
        public String code() {
            return method.code() + "-" + about.code();
        }

        private static Optional<Kind> of(String code) {
            return all().stream().filter(kind -> kind.code().equals(code)).findFirst();
        }

        @Override
        public int compareTo(Kind other) {
            int byMethod = method.compareTo(other.method);
            return byMethod != 0 ? byMethod : about.compareTo(other.about);
        }

        private VisitTerms visit(EstimatorTerms terms) {
            VisitTerms plan = terms.plan(VisitPlan.of(method, about.ears()), null, null, 0);
            List<Part> parts = plan.parts().stream()
                    .map(part -> Part.planned(
                            part.name(),
                            part.kind(),
                            part.terms().stream()
                                    // Neither ear is the slower one on the whole.
                                    .filter(term -> !term.factor().equals(Factors.SIDE))
                                    .map(this::certain)
                                    .toArray(Term[]::new)))
                    .toList();
            return VisitTerms.of(plan.once(), parts, null);
        }

        private Term certain(Term term) {
            Term certain = about.certain();
            return certain != null && certain.factor().equals(term.factor()) ? certain : term;
        }
    }

    /**
     * Minutes in the room of one kind.
     *
     * @param usual within which half of the visits are over
     * @param oneInTenOver which one in ten exceeds, above {@code usual}; null where nothing was said
     */
    public record Minutes(int usual, @Nullable Integer oneInTenOver) {}

    public LeadAnswers {
        minutes = Collections.unmodifiableSortedMap(new TreeMap<>(minutes));
    }

    public boolean isEmpty() {
        return minutes.isEmpty();
    }

    /** What the estimator is told of it, in the terms of its fit. */
    ExpertKnowledge knowledge(EstimatorTerms terms) {
        return new ExpertKnowledge(minutes.entrySet().stream()
                .map(said -> new ElicitedMinutes(
                        said.getKey().visit(terms),
                        said.getValue().usual(),
                        said.getValue().oneInTenOver() == null
                                ? null
                                : Double.valueOf(said.getValue().oneInTenOver())))
                .toList());
    }

    /** As {@link #read} reads it: {@code microsuction-one=12/20;irrigation-both=25}; empty if nothing is said. */
    public String text() {
        return minutes.entrySet().stream()
                .map(said -> said.getKey().code() + "=" + said.getValue().usual()
                        + (said.getValue().oneInTenOver() == null
                                ? ""
                                : "/" + said.getValue().oneInTenOver()))
                .collect(Collectors.joining(";"));
    }

    /** Reads what {@link #text} wrote. */
    static LeadAnswers read(String text) {
        SortedMap<Kind, Minutes> minutes = new TreeMap<>();
        for (String each : text.split(";")) {
            int equals = each.indexOf('=');
            if (equals > 0) {
                Kind kind = Kind.of(each.substring(0, equals))
                        .orElseThrow(() -> new IllegalStateException("unknown kind of visit in " + each));
                String[] said = each.substring(equals + 1).split("/");
                minutes.put(
                        kind,
                        new Minutes(Integer.parseInt(said[0]), said.length > 1 ? Integer.valueOf(said[1]) : null));
            }
        }
        return new LeadAnswers(minutes);
    }
}
