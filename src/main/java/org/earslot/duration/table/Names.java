package org.earslot.duration.table;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Names and their numbers: given as they come, then put into alphabetical order, so that no order of rows matters. */
public final class Names {

    /** The number of a name that is not there. */
    public static final int NONE = -1;

    private final Map<String, Integer> numbers = new HashMap<>();
    private final List<String> names = new ArrayList<>();

    private static final int RECENT = 32;

    private final @Nullable String[] recent = new String[RECENT];
    private final int[] recentNumber = new int[RECENT];

    Names() {}

    Names(List<String> names) {
        names.forEach(this::number);
    }

    /** The number of a name, a new one if need be; {@link #NONE} for null. */
    public int number(@Nullable String name) {
        if (name == null) {
            return NONE;
        }
        // Tables are full of the very same strings; most need no search.
        int slot = name.hashCode() & RECENT - 1;
        if (recent[slot] == name) {
            return recentNumber[slot];
        }
        Integer known = numbers.get(name);
        if (known == null) {
            known = names.size();
            numbers.put(name, known);
            names.add(name);
        }
        recent[slot] = name;
        recentNumber[slot] = known;
        return known;
    }

    /** The number of a name already there, else {@link #NONE}. */
    public int find(@Nullable String name) {
        Integer known = name == null ? null : numbers.get(name);
        return known == null ? NONE : known;
    }

    /** The name that was given {@code number}. */
    public String name(int number) {
        return names.get(number);
    }

    /** How many names there are. */
    public int size() {
        return names.size();
    }

    /** All names in the order of their numbers. */
    public List<String> all() {
        return List.copyOf(names);
    }

    /**
     * Puts the names into alphabetical order.
     *
     * @return the new number of each old one
     */
    int[] sort() {
        String[] sorted = names.toArray(String[]::new);
        Arrays.sort(sorted);
        int[] moved = new int[sorted.length];
        for (int number = 0; number < sorted.length; number++) {
            moved[numbers.get(sorted[number])] = number;
        }
        for (int number = 0; number < sorted.length; number++) {
            names.set(number, sorted[number]);
            numbers.put(sorted[number], number);
        }
        Arrays.fill(recent, null);
        return moved;
    }

    /**
     * All names of others.
     *
     * @return what numbers they have here
     */
    int[] takeIn(Names others) {
        return others.names.stream().mapToInt(this::number).toArray();
    }

    /** Gives every name the number that stands at its old one: all numbers from 0, each once. */
    public void renumber(int[] moves) {
        List<String> before = new ArrayList<>(names);
        for (int number = 0; number < moves.length; number++) {
            names.set(moves[number], before.get(number));
        }
        numbers.replaceAll((name, number) -> moves[number]);
        Arrays.fill(recent, null);
    }
}
