package org.earslot.referral.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.UnaryOperator;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.PlainText;
import org.earslot.page.Problem;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.jspecify.annotations.Nullable;

/**
 * Reads a referral form, or a program's referral, as the records of a referral; the results hold only if there are no
 * {@link #problems()}.
 */
final class ReferralReading {

    /** What the form carries besides the referral itself. */
    record Keys(
            @PlainText(max = 40) @Nullable String localNumber,
            @Nullable UUID formKey,
            @Nullable UUID clinician) {}

    private final Form form;
    private final FormFields fields;
    private final Keys keys;

    ReferralReading(Form form) {
        this.form = form;
        this.fields = form.fields();
        this.keys = form.read(Keys.class);
    }

    /** The field of a component of a {@link VisitRequest}. */
    static String fieldOf(String component) {
        return component.equals("methodPlanned") ? "method" : component;
    }

    /** The field of a component of {@link EarFindings} of that ear. */
    static UnaryOperator<String> fieldOf(Ear ear) {
        return component -> ear.code() + component.substring(0, 1).toUpperCase(Locale.ROOT) + component.substring(1);
    }

    /** The field of a component of an {@link AskedCaution}. */
    static UnaryOperator<String> fieldOf(Caution caution) {
        return component -> component + "." + caution.code();
    }

    FormFields fields() {
        return fields;
    }

    List<Problem> problems() {
        return form.problems();
    }

    Map<String, Problem> byField() {
        return form.byField();
    }

    Optional<String> localNumber() {
        return Optional.ofNullable(keys.localNumber());
    }

    PatientDetails person() {
        return form.read(PatientDetails.class);
    }

    /**
     * Who a new patient is: a family name and a date of birth or phone, or the tick that the name is unknown.
     *
     * @param numbered whether a local number says it already
     */
    void identity(PatientDetails person, boolean numbered) {
        boolean unknown = !fields.get("nameUnknown").isEmpty();
        if (unknown && person.familyName() != null) {
            form.problem("nameUnknown", "referral.allowed.nameOrUnknown");
        }
        if (unknown || numbered) {
            return;
        }
        if (person.familyName() == null) {
            form.missing("familyName", "referral.allowed.familyName");
        }
        if (person.dateOfBirth() == null && person.contact() == null) {
            form.missing("dateOfBirth", "referral.allowed.bornOrPhone");
        }
    }

    /** The key of the form; empty if it carries none. */
    Optional<UUID> formKey() {
        return Optional.ofNullable(keys.formKey());
    }

    /** The clinician named for a red flag. */
    Optional<UUID> clinician() {
        return Optional.ofNullable(keys.clinician());
    }

    /** The referral, received on {@code today} if nothing else is said; empty if a field is missing or wrong. */
    Optional<ReferralDetails> referral(LocalDate today) {
        VisitRequest request = form.read(VisitRequest.class, ReferralReading::fieldOf);
        CautionAnswers cautions = cautions();
        RedFlagAnswers redFlags = RedFlagAnswers.read(form);
        ReferralSource source = form.read(ReferralSource.class);
        ReferralDetails said = new ReferralDetails(
                source.receivedOn() == null ? source.receivedOn(today) : source,
                request,
                new ReportedEars(reported(Ear.RIGHT), reported(Ear.LEFT)),
                cautions,
                redFlags);
        return form.clean() ? Optional.of(said) : Optional.empty();
    }

    private EarFindings reported(Ear ear) {
        return form.read(EarFindings.class, fieldOf(ear));
    }

    private CautionAnswers cautions() {
        List<AskedCaution> yes = confirmed();
        Set<Caution> notKnown = EnumSet.noneOf(Caution.class);
        for (Caution caution : Caution.values()) {
            boolean confirmed = yes.stream().anyMatch(asked -> asked.caution() == caution);
            if (!fields.get("unsure." + caution.code()).isEmpty() && !confirmed) {
                notKnown.add(caution);
            }
        }
        return new CautionAnswers(asked(), yes, notKnown, List.of());
    }

    private List<AskedCaution> confirmed() {
        List<AskedCaution> confirmed = new ArrayList<>();
        for (String code : fields.all("cautions")) {
            Optional<Caution> caution = Caution.of(code.strip());
            if (caution.isEmpty() && !code.isBlank()) {
                form.unknown("cautions", code, Caution.values());
            }
            caution.ifPresent(known ->
                    confirmed.add(form.read(AskedCaution.class, fieldOf(known)).of(known)));
        }
        return confirmed.stream().distinct().toList();
    }

    /** Whether everything else on the list was asked as well: a switch of the page, and a program says so itself. */
    private boolean asked() {
        return !fields.get("noneOfThese").isEmpty()
                || fields.get("cautionsAsked").equals(Answer.YES.code());
    }
}
