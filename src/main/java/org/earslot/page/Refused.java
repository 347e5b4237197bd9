package org.earslot.page;

import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * A request that is refused, for the border of HTTP only: rooms return refusals as values, their {@code web} turns
 * them into this, and one advice says it and answers it as a page or as an RFC 9457 problem document.
 */
public class Refused extends RuntimeException {

    private final int status;
    private final transient List<Reason> reasons;
    private final transient List<Problem> problems;

    /** A reason that is on no room's list, or of a field of its own. */
    private record Plain(String code, String field, String given, String messageKey, List<Object> arguments)
            implements Reason {

        @Override
        public Kind kind() {
            return Kind.CONFLICT;
        }
    }

    /**
     * Refuses with a text from the messages, without a patient's details.
     *
     * @param status a 4xx status; 500 if what is stored here is at fault
     * @param code short, with hyphens, part of the interface: {@code slot-taken}
     * @param messageKey of one sentence for people
     * @param arguments of that sentence
     */
    public Refused(int status, String code, String messageKey, Object... arguments) {
        this(status, List.of(new Plain(code, "", "", messageKey, List.of(arguments))), List.of());
    }

    private Refused(int status, List<? extends Reason> reasons, List<Problem> problems) {
        super(reasons.get(0).code() + " " + reasons.get(0).arguments());
        this.status = status;
        this.reasons = List.copyOf(reasons);
        this.problems = List.copyOf(problems);
    }

    /** The answer to what a room refused: the status and code of the first reason, a problem for each with a field. */
    public static Refused of(List<? extends Reason> reasons) {
        return of(reasons, Reason.status(reasons));
    }

    /** The same with a status of its own. */
    public static Refused of(List<? extends Reason> reasons, int status) {
        Reason first = reasons.get(0);
        return first.kind() == Reason.Kind.ABSENT ? notFound(first.field()) : new Refused(status, reasons, List.of());
    }

    /** 400 with the one field that is wrong, as {@link Problem#of(String, String, String, Object...)} says it. */
    public static Refused invalid(String field, String given, String key, Object... arguments) {
        return invalid(List.of(Problem.of(field, given, key, arguments)));
    }

    /** 400 with the fields that are wrong. */
    public static Refused invalid(List<Problem> problems) {
        return new Refused(400, "invalid", "page.refused.invalid").naming(problems);
    }

    /**
     * 404: what was asked for is not there.
     *
     * @param what the end of the key of its sentence
     */
    public static Refused notFound(String what) {
        return new Refused(404, "not-found", "page.notFound." + what, what);
    }

    /** 409: somebody else has saved the same form since it was opened. */
    public static Refused changedMeanwhile() {
        return conflict("changed-meanwhile", "page.refused.changedMeanwhile");
    }

    /** 409 with a code of its own. */
    public static Refused conflict(String code, String messageKey, Object... arguments) {
        return new Refused(409, code, messageKey, arguments);
    }

    /** 409: only a clinician may do this, with an account of their own. */
    public static Refused noPractitioner() {
        return conflict("no-practitioner", "page.refused.noPractitioner");
    }

    /** The same with these fields, each said already. */
    public Refused naming(List<Problem> wrong) {
        return new Refused(status, reasons, wrong);
    }

    /**
     * The same with a field that is wrong.
     *
     * @param given what was given; empty if it may not be repeated
     * @param allowedKey of what is allowed; the remedy has the same key plus {@code .remedy}
     */
    public Refused at(String field, String given, String allowedKey, Object... arguments) {
        Plain wrong = new Plain(code(), field, given, allowedKey, List.of(arguments));
        return new Refused(
                status, Stream.concat(reasons.stream(), Stream.of(wrong)).toList(), problems);
    }

    public int status() {
        return status;
    }

    public String code() {
        return reasons.get(0).code();
    }

    /** What a problem document says besides. */
    public Map<String, Object> members() {
        return reasons.get(0).members();
    }

    /** One sentence for people. */
    public String detail(Messages messages) {
        return messages.say(reasons.get(0));
    }

    /** Each field that is wrong. */
    public List<Problem> problems() {
        Stream<Problem> ofReasons =
                reasons.stream().filter(reason -> !reason.field().isEmpty()).map(Problem::of);
        return Stream.concat(problems.stream(), ofReasons).toList();
    }
}
