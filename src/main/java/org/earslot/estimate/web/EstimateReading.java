package org.earslot.estimate.web;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.clinic.Practitioner;
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
import org.earslot.estimate.VisitPlan;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.jspecify.annotations.Nullable;

/**
 * Reads what is asked about. The names of the fields are those of the referral form, so that the form of a referral can
 * be asked about while it is filled in; fields of it that do not matter here are passed over.
 */
final class EstimateReading {

    private static final int LONGEST_TEXT = 120;

    private final EstimateForm form;
    private final List<Practitioner> practitioners;
    private final Reading reading = new Reading();

    EstimateReading(EstimateForm form, List<Practitioner> practitioners) {
        this.form = form;
        this.practitioners = practitioners;
    }

    Map<String, Problem> problems() {
        return reading.byField();
    }

    /** Whether method and ears are known, without which nothing can be said. */
    boolean enough() {
        return !form.get("method").isEmpty() && !form.get("ears").isEmpty();
    }

    /** The visit asked about; empty where a field is wrong. */
    Optional<VisitPlan> plan() {
        Method method = reading.requiredWord("method", form.get("method"), Method::of, Method.values())
                .orElse(null);
        Ears ears = reading.requiredWord("ears", form.get("ears"), Ears::of, Ears.values())
                .orElse(null);
        VisitPlan plan = new VisitPlan(
                reading.text("localNumber", form.get("localNumber"), LONGEST_TEXT)
                        .orElse(null),
                practitioner(),
                method == null ? Method.MICROSUCTION : method,
                ears == null ? Ears.BOTH : ears,
                answer("firstVisit"),
                answer("hearingAid"),
                cautions(),
                reading.whole("softenerDays", form.get("softenerDays"), 0, 365).orElse(null),
                reported(),
                reading.text("referrer", form.get("referrer"), LONGEST_TEXT).orElse(null));
        return reading.clean() ? Optional.of(plan) : Optional.empty();
    }

    private @Nullable UUID practitioner() {
        String id = form.get("practitioner");
        if (id.isEmpty()) {
            return null;
        }
        Optional<UUID> known = practitioners.stream()
                .map(Practitioner::id)
                .filter(each -> each.toString().equals(id))
                .findFirst();
        if (known.isEmpty()) {
            reading.refuse("practitioner", id, "estimate.allowed.practitioner");
        }
        return known.orElse(null);
    }

    private Answer answer(String field) {
        return word(field, Answer::of, Answer.values()).orElse(Answer.NOT_KNOWN);
    }

    private Set<Caution> cautions() {
        Set<Caution> known = EnumSet.noneOf(Caution.class);
        form.cautions()
                .forEach(code -> reading.word("cautions", code, Caution::of, Word.codes(Caution.values()))
                        .ifPresent(known::add));
        return known;
    }

    private Map<Ear, EarFindings> reported() {
        Map<Ear, EarFindings> reported = new EnumMap<>(Ear.class);
        for (Ear ear : Ear.values()) {
            String side = ear.code();
            reported.put(
                    ear,
                    new EarFindings(
                            word(side + "Wax", Wax::of, Wax.values()).orElse(null),
                            word(side + "Canal", Canal::of, Canal.values()).orElse(null),
                            word(side + "Depth", Depth::of, Depth.values()).orElse(null),
                            word(side + "Occlusion", Occlusion::of, Occlusion.values())
                                    .orElse(null)));
        }
        return reported;
    }

    private <W extends Word> Optional<W> word(String field, Function<String, Optional<W>> find, W[] words) {
        return reading.word(field, form.get(field), find, Word.codes(words));
    }
}
