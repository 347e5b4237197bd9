package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.earslot.duration.FittedModel;
import org.earslot.duration.knowledge.ElicitedMinutes;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.junit.jupiter.api.Test;

/** Answers as text and in the estimator's terms. */
class LeadAnswersTest {

    private static final String TEXT = "irrigation-both=25;microsuction-one=12/20;microsuction-hard=20/35";

    @Test
    void are_read_as_they_were_written() {
        assertThat(LeadAnswers.read(TEXT).text()).isEqualTo(TEXT);
        assertThat(LeadAnswers.read("")).isEqualTo(LeadAnswers.NONE);
        assertThatThrownBy(() -> LeadAnswers.read("singing-one=3")).hasMessageContaining("singing-one");
    }

    @Test
    void say_one_ear_or_both_with_findings_not_known_and_hard_wax_as_certain() {
        List<ElicitedMinutes> said =
                LeadAnswers.read(TEXT).knowledge(new EstimatorTerms(false)).said();

        assertThat(said).extracting(ElicitedMinutes::usual).containsExactly(25.0, 12.0, 20.0);
        assertThat(said).extracting(ElicitedMinutes::oneInTenOver).containsExactly(null, 20.0, 35.0);
        assertThat(said).extracting(one -> one.visit().parts().size()).containsExactly(2, 1, 1);
        assertThat(terms(said.get(1))).contains(Term.unknown("wax"), Term.unknown("canal"));
        assertThat(terms(said.get(2))).contains(Term.level("wax", "hard"), Term.unknown("canal"));
    }

    @Test
    void are_part_of_the_choices_of_a_fit_and_leave_its_text_alone_where_nothing_is_said() {
        FitChoices plain = FitChoices.now(false, 0.75);
        FitChoices informed = plain.saying(LeadAnswers.read(TEXT));

        assertThat(plain.saying(LeadAnswers.NONE)).isEqualTo(plain);
        assertThat(plain.text()).doesNotContain("answers");
        assertThat(FitChoices.read(plain.text())).isEqualTo(plain);
        assertThat(FitChoices.read(informed.text())).isEqualTo(informed);
    }

    @Test
    void count_until_so_many_visits_have_come() {
        FitChoices choices = FitChoices.now(false, 0.75).saying(LeadAnswers.read(TEXT));
        FittedModel model = choices.asEstimator().fit(List.of());

        Estimate.RestsOn restsOn = ActiveModel.of("v", model, choices).restsOn();

        assertThat(restsOn.visits()).isZero();
        assertThat(restsOn.answersCountUntil()).isBetween(15L, 80L);
        assertThat(restsOn.answersFirst()).isTrue();
    }

    private static List<Term> terms(ElicitedMinutes said) {
        Part part = said.visit().parts().get(0);
        return part.terms();
    }
}
