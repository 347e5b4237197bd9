package org.earslot.exchange.mapping;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.ear.Word;

/**
 * What headings and words of spreadsheets mostly mean. Guesses only (common practice, no source): each is shown with how
 * often it occurs, and used only after a person has confirmed it.
 */
final class Guesses {

    private static final Map<String, List<String>> HEADINGS = new LinkedHashMap<>();
    private static final Map<String, List<String>> WORDS = new LinkedHashMap<>();

    static {
        heading("visit_id", "visit id", "visit ref", "visit no", "ref", "reference", "id");
        heading(
                "patient_ref",
                "patient ref",
                "patient",
                "patient no",
                "patient number",
                "patient id",
                "local number",
                "record no",
                "number",
                "client");
        heading("date", "visit date", "appt date", "appointment date", "date seen", "day");
        heading("practitioner", "clinician", "seen by", "by", "audiologist", "nurse", "who", "staff");
        heading("room", "clinic room", "place");
        heading("attendance", "attended", "status", "attended?", "came");
        heading("method_planned", "method", "planned", "planned method", "procedure", "treatment", "type");
        heading("ears", "ear", "side", "ear(s)", "which ear", "r/l");
        heading("first_visit", "first visit", "new", "new patient", "first");
        heading("hearing_aid", "hearing aid", "aid", "aids", "ha", "hearing aids");
        heading("cautions", "caution", "risks", "alerts", "medical");
        heading("softener_days", "softener days", "softener", "oil", "oil days", "days of oil", "drops");
        heading("booked_start", "booked", "appt time", "appointment time", "time", "slot time", "booked time");
        heading("slot_minutes", "slot", "slot length", "length", "minutes", "mins", "duration");
        heading("arrived", "arrival", "time arrived", "checked in", "arrive");
        heading("called_in", "called in", "called", "time in", "in", "start", "started", "start time");
        heading("finished", "time out", "out", "end", "ended", "finish", "end time", "finish time");
        heading("room_ready", "room ready", "ready", "clean", "cleaned");
        heading("stopped_early", "stopped early", "stopped", "cut short");
        heading("methods", "method used", "methods used", "used", "done by", "instrument");
        heading("wax_found", "wax", "wax type", "consistency", "wax found");
        heading("canal_found", "canal", "canal found");
        heading("depth_found", "depth", "depth found");
        heading("occlusion_found", "occlusion", "blocked");
        heading("outcome", "result", "outcome of visit");
        heading("note", "notes", "comment", "comments", "remarks", "free text");

        words("both", "both ears", "both", "bilateral", "bilat", "b/l", "r+l", "r&l", "r/l", "l+r", "rt+lt", "2 ears");
        words("right", "right ear", "right", "rt ear", "rt", "r ear", "r");
        words("left", "left ear", "left", "lt ear", "lt", "l ear", "l");
        words("microsuction", "ms", "microsuction", "micro suction", "micro-suction", "suction");
        words("irrigation", "irrigation", "irrig", "irrigated", "irr", "water");
        words(
                "manual_removal",
                "hook",
                "curette",
                "forceps",
                "manual",
                "manual removal",
                "by hand",
                "instruments",
                "mr",
                "probe");
        words("did_not_attend", "dna", "did not attend", "no show", "fta", "failed to attend");
        words("cancelled_by_patient", "cancelled", "canceled", "pt cancelled", "patient cancelled", "canc");
        words("cancelled_by_clinic", "clinic cancelled", "cancelled by us", "we cancelled");
        words("late_not_seen", "too late", "late not seen", "late - not seen", "arrived late not seen");
        words("attended_late", "late", "arrived late", "seen late");
        words("attended", "attended", "seen", "yes", "y", "came", "done", "complete", "completed");
        words("yes", "y", "yes", "new", "true", "1");
        words("no", "n", "no", "follow-up", "f/u", "fu", "false", "0", "review");
        words(
                "comfort",
                "stopped for comfort",
                "too sore",
                "too painful",
                "pt asked to stop",
                "could not tolerate",
                "not tolerated");
        words("time", "ran out of time", "out of time", "no time");
        words("safety", "stopped for safety", "bleeding", "unsafe");
        words("clear", "clear", "all clear", "cleared", "removed", "drum seen");
        words("residual", "residual", "some left", "partly removed", "part removed", "partial");
        words("not_removed", "not removed", "unsuccessful", "failed", "come back");
        words("no_wax", "no wax", "nil wax", "clear on arrival");
        words("not_attempted", "not attempted", "not tried");
        words("unsuitable_on_day", "unsuitable", "not suitable");
        words("loose", "loose", "crumbly", "flaky");
        words("soft", "soft wax", "soft");
        words("sticky", "sticky wax", "sticky");
        words("firm", "firm wax", "firm");
        words("hard", "hard wax", "hard", "impacted", "dry");
        words("narrow", "narrow canal", "narrow", "narrow canals");
        words("very_narrow", "very narrow", "very narrow canal", "v narrow");
        words("wide", "wide canal", "wide");
        words("average", "normal", "normal canal");
        words("against_drum", "on drum", "on the drum", "against the drum", "on tm");
        words("deep_canal", "deep", "deep wax");
        words("outer_third", "outer", "superficial", "outer third");
        words("occluding", "fully blocked", "occluded", "blocked", "100%");
        words("partly", "partly blocked", "partial", "part");
        words("tinnitus", "tinnitus");
        words("anticoagulant", "blood thinner", "blood thinners", "anticoagulant", "anticoagulants", "warfarin");
        words("diabetes", "diabetic", "diabetes");
        words("perforation", "perf", "perforation", "perforated");
        words("grommet", "grommet", "grommets");
        words("needs_support", "needs support", "carer", "with carer");
        words("mastoid_cavity", "mastoid", "mastoid cavity");
        words("dizziness", "dizzy", "dizziness");
    }

    private Guesses() {}

    private static void heading(String target, String... headings) {
        HEADINGS.put(target, List.of(headings));
    }

    private static void words(String code, String... said) {
        WORDS.put(code, List.of(said));
    }

    /** Which of the file's headings a target mostly goes by: the earliest in the target's list. */
    static Optional<String> heading(String target, List<String> names) {
        if (names.contains(target)) {
            return Optional.of(target);
        }
        String plainTarget = target.replace('_', ' ');
        return Stream.concat(Stream.of(plainTarget), HEADINGS.getOrDefault(target, List.of()).stream())
                .flatMap(known -> names.stream().filter(name -> plain(name).equals(known)))
                .findFirst();
    }

    /** What a word in a column of that target mostly means. */
    static Optional<String> meaning(String target, String own) {
        String plain = HeadingSynonym.plain(own);
        return Targets.words(target).stream()
                .map(Word::code)
                .filter(code -> code.equals(plain.replaceAll("[\\s-]+", "_"))
                        || WORDS.getOrDefault(code, List.of()).contains(plain))
                .findFirst();
    }

    /** The words that may be found in a note and say something that another column does not. */
    static List<ClinicMapping.NoteWords> inNotes() {
        List<ClinicMapping.NoteWords> all = new ArrayList<>();
        Targets.meanings()
                .forEach((target, words) -> words.forEach(word -> {
                    if (!target.equals("methods") && !target.equals("first_visit") && !target.equals("hearing_aid")) {
                        WORDS.getOrDefault(word.code(), List.of()).stream()
                                .filter(said -> said.length() > 1 && !EVERYDAY.contains(said))
                                .forEach(said -> all.add(new ClinicMapping.NoteWords(said, target, word.code())));
                    }
                }));
        return all;
    }

    /** Words that mean too much to be guessed at in free text. */
    private static final List<String> EVERYDAY = List.of(
            "yes",
            "new",
            "true",
            "no",
            "review",
            "done",
            "complete",
            "completed",
            "seen",
            "came",
            "late",
            "time",
            "left",
            "right",
            "clear",
            "dry",
            "water",
            "normal",
            "deep",
            "part",
            "outer",
            "failed",
            "partial",
            "probe",
            "manual",
            "hard",
            "soft",
            "wide",
            "narrow",
            "firm",
            "loose",
            "removed",
            "instruments",
            "rt",
            "lt",
            "attended",
            "both",
            "blocked",
            "come back",
            "mr",
            "fu");

    private static String plain(String name) {
        return HeadingSynonym.plain(name.replace('_', ' '));
    }
}
