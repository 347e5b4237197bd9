package org.earslot.patient;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import org.earslot.patient.Sought.Part;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is typed while the caller speaks, and whose line it fits. */
class SoughtTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 11, 30);
    private static final String LINE = SearchText.of(
            "Bracken-Fold", "Tessaly O'Mara", "K 0883", LocalDate.of(1951, 3, 14), "01632 960123, tess@example.org");

    @Test
    void a_line_has_every_word_without_accents_and_the_digits_of_numbers() {
        assertThat(LINE).isEqualTo(" bracken fold tessaly omara k0883 19510314 01632960123 tess@example.org");
        assertThat(SearchText.of(null, "Łukász", "N1", null, "call after 5")).isEqualTo(" lukasz n1");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "brack",
                "Tessaly",
                "fold",
                "Tessaly Bracken",
                "Bracken-Fold, Tessaly",
                "tess brack",
                "  O'MARA ",
                "éssaly",
                "1951-03-14",
                "14/03/1951",
                "14/3/51",
                "14.3.1951",
                "14 March 1951",
                "14th mar 51",
                "March 14, 1951",
                "14mar1951",
                "14031951",
                "140351",
                "19510314",
                "03/14/1951",
                "tess 14/3/51",
                "14 march 1951 fold",
                "01632 960123",
                "01632960123",
                "+44 1632 960123",
                "(01632) 960-123",
                "960123",
                "K0883",
                "k 0883",
                "0883",
                "tess@example.org",
                "tess 960123"
            })
    void finds(String typed) {
        assertThat(Sought.of(typed, TODAY).parts()).isNotEmpty().allMatch(part -> part.in(LINE));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "Brackenfeld",
                "14/03/1952",
                "15 March 1951",
                "960124",
                "tess wren",
                "K0884",
                "30/02/1951",
                "2051-03-14"
            })
    void does_not_find(String typed) {
        assertThat(Sought.of(typed, TODAY).parts()).isNotEmpty().anyMatch(part -> !part.in(LINE));
    }

    @ParameterizedTest
    @ValueSource(strings = {"brakken", "brcken", "brackeen", "barcken", "tesaly", "tesasly", "fodl", "omora", "bracxe"})
    void one_letter_wrong_is_nearly_right_and_shares_a_piece(String typed) {
        Part part = Sought.of(typed, TODAY).parts().get(0);
        assertThat(part.in(LINE)).isFalse();
        assertThat(part.nearly(LINE)).isTrue();
    }

    @ParameterizedTest
    @ValueSource(strings = {"brokkan", "wren", "marsh", "tas"})
    void two_letters_wrong_and_one_of_three_are_not(String typed) {
        assertThat(Sought.of(typed, TODAY).parts().get(0).nearly(LINE)).isFalse();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "   ", ",;", "'", "%", "_", "\\", "@", "🦻"})
    void nothing_to_look_for(String typed) {
        assertThat(Sought.of(typed, TODAY).isEmpty()).isTrue();
    }

    @Test
    void long_and_hostile_texts_stay_short() {
        Sought sought = Sought.of("a b c d e f g h ' or 1=1 -- ".repeat(500), TODAY);
        assertThat(sought.parts()).hasSizeLessThanOrEqualTo(6);
    }

    @Test
    void a_year_of_two_digits_is_in_the_past() {
        assertThat(Sought.of("1/2/26", TODAY).parts().get(0).forms()).containsExactly("20260201");
        assertThat(Sought.of("1/2/27", TODAY).parts().get(0).forms()).containsExactly("19270201");
    }
}
