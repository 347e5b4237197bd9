package org.earslot.page;

import java.util.List;
import java.util.Map;
import org.earslot.ear.Word;

/**
 * A request that is refused, for the border of HTTP only: rooms return refusals as values, their {@code web} turns
 * them into this, and one advice answers it as a page or as an RFC 9457 problem document.
 */
public class Refused extends RuntimeException {

    private final int status;
    private final String code;
    private final transient List<Problem> problems;
    private final transient Map<String, Object> members;

    /**
     * @param status a 4xx status; 500 if what is kept here is at fault
     * @param code short, with hyphens, the same for ever: {@code slot-taken}
     * @param message one sentence for people, without a patient's details
     * @param problems each wrong field; may be empty
     */
    public Refused(int status, String code, String message, List<Problem> problems) {
        this(status, code, message, problems, Map.of());
    }

    private Refused(int status, String code, String message, List<Problem> problems, Map<String, Object> members) {
        super(message);
        this.status = status;
        this.code = code;
        this.problems = List.copyOf(problems);
        this.members = Map.copyOf(members);
    }

    /** The answer to what a room refused: the status and code of the first reason, a problem for each with a field. */
    public static Refused of(List<? extends Reason> reasons, Messages messages) {
        return of(reasons, messages, Reason.status(reasons));
    }

    /** The same with a status of its own. */
    public static Refused of(List<? extends Reason> reasons, Messages messages, int status) {
        Reason first = reasons.get(0);
        if (first.kind() == Reason.Kind.ABSENT) {
            return notFound(first.field());
        }
        List<Problem> problems = reasons.stream()
                .filter(reason -> !reason.field().isEmpty())
                .map(reason ->
                        new Problem(reason.field(), given(reason), messages.fact(reason), messages.remedy(reason)))
                .toList();
        return new Refused(status, first.code(), messages.say(first), problems, first.members());
    }

    private static String given(Reason reason) {
        if (reason.arguments().isEmpty()) {
            return "";
        }
        Object given = reason.arguments().get(0);
        return given instanceof Word word ? word.code() : String.valueOf(given);
    }

    /** 400 with the fields that are wrong. */
    public static Refused invalid(List<Problem> problems) {
        return new Refused(400, "invalid", "Some values cannot be used.", problems);
    }

    /** 404: what was asked for is not there. */
    public static Refused notFound(String what) {
        return new Refused(404, "not-found", "There is no such " + what + ".", List.of());
    }

    /** 409: somebody else has saved the same form since it was opened. */
    public static Refused changedMeanwhile() {
        return conflict(
                "changed-meanwhile",
                "Someone else changed this after you opened it. Nothing was saved. Open the page again and compare.");
    }

    /** 409 with a code of its own. */
    public static Refused conflict(String code, String message) {
        return new Refused(409, code, message, List.of());
    }

    /** 409: only a clinician may do this, with an account of their own. */
    public static Refused noPractitioner() {
        return conflict("no-practitioner", "This account belongs to no practitioner of the clinic.");
    }

    public int status() {
        return status;
    }

    public String code() {
        return code;
    }

    /** What a problem document says besides. */
    public Map<String, Object> members() {
        return members;
    }

    public List<Problem> problems() {
        return problems;
    }
}
