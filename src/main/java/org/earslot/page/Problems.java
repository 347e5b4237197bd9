package org.earslot.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** What is wrong with what was asked, gathered so that all of it is reported at once. Not for several threads. */
public abstract class Problems {

    /** More problems than these are not gathered: nobody reads them, and each costs memory. */
    public static final int MOST = 200;

    private final List<Problem> problems = new ArrayList<>();

    /** Everything found wrong so far. */
    public List<Problem> problems() {
        return List.copyOf(problems);
    }

    /** The problems by field, the first of each, for showing beside the fields. */
    public Map<String, Problem> byField() {
        return problems.stream()
                .collect(Collectors.toMap(Problem::field, Function.identity(), (first, second) -> first));
    }

    public boolean clean() {
        return problems.isEmpty();
    }

    /** Whether no more problems are gathered. */
    public boolean full() {
        return problems.size() == MOST;
    }

    /** Adds a problem found elsewhere. */
    public void add(Problem problem) {
        if (!full()) {
            problems.add(problem);
        }
    }

    /** Adds the problems of a part that was read elsewhere. */
    public void add(List<Problem> found) {
        found.forEach(this::add);
    }

    /**
     * Adds a problem, with its texts from the messages.
     *
     * @param given repeated, so no patient's detail
     * @param key of what is allowed; the remedy has the same key plus {@code .remedy}, or is to fill the field in
     */
    public void refuse(String field, @Nullable String given, String key, Object... arguments) {
        add(Problem.of(field, given, key, arguments));
    }

    /** Adds a problem with a field that holds none of these words. */
    public void unknown(String field, String given, Word[] words) {
        refuse(field, given, "page.allowed.oneOf", String.join(", ", Word.codes(words)));
    }

    /** Whether something is wrong with this field. */
    protected boolean wrong(String field) {
        return problems.stream().anyMatch(problem -> problem.field().equals(field));
    }
}
