package org.earslot.duration.table;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeSet;
import org.earslot.duration.table.Prior.Place;
import org.jspecify.annotations.Nullable;

/**
 * All names that a fit knows: those of the rows, and those that the priors say something about, so that a fit without
 * any row already has their columns.
 */
public final class Vocabulary {

    /** The factor of every part that says whether the work went as planned. */
    public static final String CHANGE = "change";

    /** Its level where it did. */
    static final String AS_PLANNED = "as_planned";

    /** The factor of which every group has a contrast of its own. */
    public static final String SIDE = "side";

    public final Names factors = new Names();
    public final List<Names> levels = new ArrayList<>();
    public final Names kinds = new Names();
    public final Names groups = new Names();
    public final Names persons = new Names();
    public final Names sources = new Names();
    public final Names parts = new Names();

    /** Of the priors alone. */
    public static Vocabulary of(Priors priors) {
        Vocabulary vocabulary = new Vocabulary();
        for (Prior line : priors.lines()) {
            if (line.place() == Place.PART && !line.kind().equals("*")) {
                vocabulary.kinds.number(line.kind());
            }
        }
        for (Prior line : priors.lines()) {
            boolean term = line.place() == Place.ONCE || line.place() == Place.PART || line.place() == Place.SHARE;
            boolean named = !line.factor().equals("-") && !line.factor().endsWith("*");
            if (term && named && !line.factor().equals(SIDE)) {
                int factor = vocabulary.factor(line.factor());
                if (!line.level().equals("*")) {
                    vocabulary.level(factor, line.level());
                }
                if (line.level().equals("yes")) {
                    vocabulary.level(factor, "no");
                }
            }
        }
        int change = vocabulary.factors.find(CHANGE);
        if (change != Names.NONE) {
            for (String kind : vocabulary.kinds.all()) {
                vocabulary.level(change, "added " + kind);
                vocabulary.level(change, "instead " + kind);
            }
        }
        return vocabulary;
    }

    /** The number of a factor, a new one if need be. */
    public int factor(String name) {
        int factor = factors.number(name);
        while (levels.size() <= factor) {
            levels.add(new Names());
        }
        return factor;
    }

    /** The number of a level, a new one if need be; {@link Names#NONE} for null. */
    public int level(int factor, @Nullable String name) {
        return levels.get(factor).number(name);
    }

    /** How the work on a part went, as a level of {@link #CHANGE}; null where nobody wrote down what was used. */
    public static @Nullable String change(Part part) {
        if (part.used().isEmpty()) {
            return null;
        }
        String other = null;
        for (String used : part.used()) {
            if (!used.equals(part.kind())) {
                other = used;
            }
        }
        if (other == null) {
            return AS_PLANNED;
        }
        return (part.used().contains(part.kind()) ? "added " : "instead ") + other;
    }

    /** Which of a factor's levels is its reference. */
    public int reference(int factor) {
        Names names = levels.get(factor);
        List<String> sorted = List.copyOf(new TreeSet<>(names.all()));
        return names.find(Priors.reference(sorted));
    }

    /**
     * Puts all names but the persons' into alphabetical order.
     *
     * @return what moved where
     */
    public Moves sort() {
        int[] factorMoves = factors.sort();
        int[][] levelMoves = new int[factorMoves.length][];
        List<Names> sorted = new ArrayList<>(levels);
        for (int factor = 0; factor < factorMoves.length; factor++) {
            levelMoves[factor] = levels.get(factor).sort();
            sorted.set(factorMoves[factor], levels.get(factor));
        }
        levels.clear();
        levels.addAll(sorted);
        return new Moves(
                factorMoves, levelMoves, kinds.sort(), groups.sort(), sources.sort(), parts.sort(), new int[0]);
    }

    /**
     * All names of another vocabulary.
     *
     * @return what numbers they have here
     */
    public Moves takeIn(Vocabulary other) {
        int[] factorMoves = factors.takeIn(other.factors);
        int[][] levelMoves = new int[factorMoves.length][];
        for (int factor = 0; factor < factorMoves.length; factor++) {
            factor(other.factors.name(factor));
            levelMoves[factor] = levels.get(factorMoves[factor]).takeIn(other.levels.get(factor));
        }
        return new Moves(
                factorMoves,
                levelMoves,
                kinds.takeIn(other.kinds),
                groups.takeIn(other.groups),
                sources.takeIn(other.sources),
                parts.takeIn(other.parts),
                persons.takeIn(other.persons));
    }

    /** The same names with the same numbers. */
    public Vocabulary copy() {
        Vocabulary copy = new Vocabulary();
        copy.takeIn(this);
        return copy;
    }

    /**
     * New numbers by old ones.
     *
     * @param levels by old factor and old level
     * @param persons empty where they stay
     */
    public record Moves(
            int[] factors, int[][] levels, int[] kinds, int[] groups, int[] sources, int[] parts, int[] persons) {

        /** These first, then others, which leave the persons where they are. */
        public Moves then(Moves next) {
            int[][] both = new int[factors.length][];
            for (int factor = 0; factor < both.length; factor++) {
                both[factor] = then(levels[factor], next.levels[factors[factor]]);
            }
            return new Moves(
                    then(factors, next.factors),
                    both,
                    then(kinds, next.kinds),
                    then(groups, next.groups),
                    then(sources, next.sources),
                    then(parts, next.parts),
                    persons);
        }

        private static int[] then(int[] first, int[] next) {
            return Arrays.stream(first).map(number -> next[number]).toArray();
        }
    }
}
