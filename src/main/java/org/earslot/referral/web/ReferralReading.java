package org.earslot.referral.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.caution.AskedCaution;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;

/** Reads a referral form as of {@code today}; the results hold only where {@link #problems()} is empty. */
final class ReferralReading {

    private static final LocalDate OLDEST_BIRTH = LocalDate.of(1895, 1, 1);
    private static final LocalDate OLDEST_REFERRAL = LocalDate.of(2000, 1, 1);
    private static final int SHORT = 120;
    private static final int LONG = 1000;

    private final ReferralForm form;
    private final LocalDate today;
    private final Reading reading = new Reading();

    ReferralReading(ReferralForm form, LocalDate today) {
        this.form = form;
        this.today = today;
    }

    List<Problem> problems() {
        return reading.problems();
    }

    Map<String, Problem> byField() {
        return reading.byField();
    }

    Optional<String> localNumber() {
        return text("localNumber", 40);
    }

    PatientDetails person() {
        return new PatientDetails(
                text("familyName", SHORT).orElse(null),
                text("givenName", SHORT).orElse(null),
                reading.dateOfBirth("dateOfBirth", form.get("dateOfBirth"), OLDEST_BIRTH, today)
                        .orElse(null),
                text("contact", 200).orElse(null),
                text("contactPerson", 200).orElse(null),
                word("contactPermission", Answer::of, Answer.values()).orElse(Answer.NOT_KNOWN),
                word("preferredRoute", ContactRoute::of, ContactRoute.values()).orElse(ContactRoute.NOT_KNOWN),
                text("interpreter", SHORT).orElse(null),
                text("mobility", SHORT).orElse(null),
                text("consentBy", SHORT).orElse(null),
                text("comesWith", SHORT).orElse(null),
                word("hearingAid", Answer::of, Answer.values()).orElse(Answer.NOT_KNOWN));
    }

    /**
     * Who a new patient is: a family name and a date of birth or phone, or the tick that the name is unknown.
     *
     * @param numbered whether a local number says it already
     */
    void identity(PatientDetails person, boolean numbered) {
        boolean unknown = !form.get("nameUnknown").isEmpty();
        if (unknown && person.familyName() != null) {
            reading.problem("nameUnknown", "", "either a family name or \"name unknown\"", "remove one of the two");
        }
        if (unknown || numbered) {
            return;
        }
        reading.required(
                "familyName",
                Optional.ofNullable(person.familyName()),
                "a family name, or the tick that the name is unknown");
        if (person.dateOfBirth() == null && person.contact() == null) {
            reading.required("dateOfBirth", Optional.empty(), "a date of birth or a phone number");
        }
    }

    /** The key of the form; empty if it carries none. */
    Optional<UUID> formKey() {
        return reading.id("formKey", form.get("formKey"));
    }

    /** The referral, or empty where a field that must be given is missing or wrong. */
    Optional<ReferralDetails> referral() {
        Optional<Ears> ears = reading.required("ears", word("ears", Ears::of, Ears.values()), "right, left or both");
        Optional<Method> method = reading.required(
                "method", word("method", Method::of, Method.values()), "irrigation, microsuction or manual removal");
        List<AskedCaution> cautions = cautions();
        boolean none = !form.get("noneOfThese").isEmpty();
        if (none && !cautions.isEmpty()) {
            reading.problem("cautions", "", "either cautions or \"none of these\"", "take one of the two away");
        }
        Set<Caution> unsure = cautionsNotKnown(cautions);
        if (none && !unsure.isEmpty()) {
            reading.problem("cautions", "", "either \"not known\" or \"none of these\"", "take one of the two away");
        }
        RedFlagAnswers redFlags = RedFlagAnswers.read(reading, form::get);
        ReferralDetails said = new ReferralDetails(
                text("referrer", SHORT).orElse(null),
                reading.date("receivedOn", form.get("receivedOn"), OLDEST_REFERRAL, today)
                        .orElse(today),
                lines("reason").orElse(null),
                word("priority", Priority::of, Priority.values()).orElse(Priority.ROUTINE),
                ears.orElse(Ears.BOTH),
                method.orElse(Method.MICROSUCTION),
                word("firstVisit", Answer::of, Answer.values()).orElse(Answer.NOT_KNOWN),
                reading.whole("softenerDays", form.get("softenerDays"), 0, 365).orElse(null),
                reading.date("notBefore", form.get("notBefore"), today.minusYears(1), today.plusYears(2))
                        .orElse(null),
                lines("lastTime").orElse(null),
                text("mustFollow", SHORT).orElse(null),
                reading.date("mustFollowBy", form.get("mustFollowBy"), today.minusYears(1), today.plusYears(2))
                        .orElse(null),
                redFlags.words(),
                none || asked(!cautions.isEmpty()),
                cautions,
                reported(),
                redFlags.answers(),
                unsure,
                word("origin", Origin::of, Origin.values()).orElse(Origin.REFERRAL),
                word("shortNotice", Answer::of, Answer.values()).orElse(Answer.NOT_KNOWN));
        return reading.clean() ? Optional.of(said) : Optional.empty();
    }

    /** On a page whoever ticks one has the whole list in view; a program says so itself. */
    private boolean asked(boolean anyYes) {
        String said = form.get("cautionsAsked");
        return said.isEmpty() ? anyYes : said.equals(Answer.YES.code());
    }

    private List<AskedCaution> cautions() {
        List<AskedCaution> asked = new ArrayList<>();
        for (String code : form.cautions()) {
            Optional<Caution> caution = reading.word("cautions", code, Caution::of, Word.codes(Caution.values()));
            caution.ifPresent(known -> asked.add(new AskedCaution(
                    known,
                    word("ear." + known.code(), Ear::of, Ear.values()).orElse(null),
                    reading.date("since." + known.code(), form.get("since." + known.code()), OLDEST_BIRTH, today)
                            .orElse(null),
                    word("method." + known.code(), Method::of, Method.values()).orElse(null),
                    !form.get("allClear." + known.code()).isEmpty())));
        }
        return asked.stream().distinct().toList();
    }

    private Set<Caution> cautionsNotKnown(List<AskedCaution> yes) {
        Set<Caution> unsure = EnumSet.noneOf(Caution.class);
        for (Caution caution : Caution.values()) {
            boolean answeredYes = yes.stream().anyMatch(asked -> asked.caution() == caution);
            if (!form.get("unsure." + caution.code()).isEmpty() && !answeredYes) {
                unsure.add(caution);
            }
        }
        return unsure;
    }

    /** The clinician named for a red flag. */
    Optional<UUID> clinician() {
        return reading.id("clinician", form.get("clinician"));
    }

    private Map<Ear, EarFindings> reported() {
        Map<Ear, EarFindings> reported = new EnumMap<>(Ear.class);
        for (Ear ear : Ear.values()) {
            reported.put(
                    ear,
                    new EarFindings(
                            finding(ear, "Wax", Wax::of, Wax.values()),
                            finding(ear, "Canal", Canal::of, Canal.values()),
                            finding(ear, "Depth", Depth::of, Depth.values()),
                            finding(ear, "Occlusion", Occlusion::of, Occlusion.values())));
        }
        return reported;
    }

    private <W extends Word> @Nullable W finding(Ear ear, String name, Function<String, Optional<W>> find, W[] words) {
        return word(ear.code() + name, find, words).orElse(null);
    }

    private Optional<String> text(String field, int longest) {
        return reading.text(field, form.get(field), longest);
    }

    private Optional<String> lines(String field) {
        return reading.lines(field, form.get(field), LONG);
    }

    private <W extends Word> Optional<W> word(String field, Function<String, Optional<W>> find, W[] words) {
        return reading.word(field, form.get(field), find, Word.codes(words));
    }
}
