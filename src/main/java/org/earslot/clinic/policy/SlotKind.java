package org.earslot.clinic.policy;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;

/** The visits that the policy treats alike when their slots are set: one method, in one ear or in both. */
public record SlotKind(Method method, boolean bothEars) implements Comparable<SlotKind> {

    private static final String BOTH = "both";
    private static final String ONE = "one";

    /** The kind of a visit. */
    public static SlotKind of(Method method, Ears ears) {
        return new SlotKind(method, ears == Ears.BOTH);
    }

    /** All kinds, in the order of the methods, one ear before both. */
    public static List<SlotKind> all() {
        List<SlotKind> all = new ArrayList<>();
        for (Method method : Method.values()) {
            all.add(new SlotKind(method, false));
            all.add(new SlotKind(method, true));
        }
        return all;
    }

    /** The kind whose {@link #code} it is, or empty if there is none. */
    public static Optional<SlotKind> of(String code) {
        return all().stream().filter(kind -> kind.code().equals(code)).findFirst();
    }

    /** Names it in files, forms and the interface for programs: {@code microsuction-both}. */
    public String code() {
        return method.code() + "-" + ears();
    }

    /** "one" or "both". */
    public String ears() {
        return bothEars ? BOTH : ONE;
    }

    /** Ears that such a visit treats, for an estimate of which nothing else is known. */
    public Ears exampleEars() {
        return bothEars ? Ears.BOTH : Ears.RIGHT;
    }

    @Override
    public int compareTo(SlotKind other) {
        int byMethod = method.compareTo(other.method);
        return byMethod != 0 ? byMethod : Boolean.compare(bothEars, other.bothEars);
    }
}
