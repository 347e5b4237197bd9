package org.earslot.aftercare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.Mockito.mock;

import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.earslot.clinic.ClinicClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class LettersTest {

    private final Letters letters = new Letters(mock(LetterTexts.class), mock(ClinicClock.class), event -> {});

    @ParameterizedTest
    @EnumSource(LetterKind.class)
    void starts_with_a_text_of_known_fields_only(LetterKind kind) {
        String body = Letters.standard(kind);
        assertThat(body).isNotBlank();
        assertThat(kind.fields()).containsAll(letters.chosen(body));
    }

    /** "Tell us as early as you can" needs a number to call. */
    @ParameterizedTest
    @EnumSource(LetterKind.class)
    void says_to_patients_nothing_of_hands_or_methods_held(LetterKind kind) {
        assertThat(Letters.standard(kind)).doesNotContainIgnoringCase("by hand").doesNotContain("we hold");
    }

    @Test
    void leaves_out_a_line_of_contact_details_that_are_not_given() {
        String body = "{clinic}\n{address}\n{phone}\n{hours}\n\nDear {patient},\n\nCall us: {phone}\n{phone}";
        assertThat(letters.filled(body, Map.of("clinic", "Fernside", "patient", "Pat")))
                .containsExactly("Fernside", "Dear Pat,", "Call us: –");
        assertThat(letters.filled(body, Map.of("clinic", "Fernside", "patient", "Pat", "phone", "01632 960100")))
                .containsExactly("Fernside\n01632 960100", "Dear Pat,", "Call us: 01632 960100\n01632 960100");
    }

    @Test
    void keeps_braces_in_what_a_field_holds_as_text() {
        assertThat(letters.filled("{patient}", Map.of("patient", "{born}"))).isEqualTo(List.of("{born}"));
    }

    /** Sudden loss of hearing: seen within 24 hours (NICE NG98); whoever waits for an appointment is told so. */
    @Test
    void tells_those_who_wait_what_not_to_wait_with() {
        Pattern sudden =
                Pattern.compile("hearing suddenly gets worse[^.]*get medical help the same day", Pattern.DOTALL);
        for (LetterKind kind : List.of(
                LetterKind.CONFIRMATION, LetterKind.INVITATION, LetterKind.CANCELLATION, LetterKind.AFTERCARE)) {
            assertThat(Letters.standard(kind)).as(kind.code()).containsPattern(sudden);
        }
    }
}
