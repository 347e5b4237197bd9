package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class GuessedPasswordsTest {

    private static final List<String> OWN = List.of("Fernside Ear Clinic", "jorrin.sedgequill");

    @ParameterizedTest
    @ValueSource(
            strings = {
                "password1234",
                "123412341234",
                "qwertyuiop12",
                "letmeinletmein",
                "earslotearslot",
                "Password2026!",
                "clinicclinic1",
                "P@ssw0rd2026!!",
                "!!Welcome12345",
                "Summer-Summer-2026",
                "abcdefghijkl",
                "poiuytrewq99",
                "1q2w3e4r5t6y",
                "1qaz2wsx3edc",
                "000000000000",
                "310519901234",
                "abcabcabcabc",
                "Fernside2026!",
                "FernsideClinic1",
                "fernsideear2026",
                "Sedgequill2026",
                "jorrinjorrin12",
                "sunshinemonkey",
                "iloveyou123456",
                "correct horse battery staple",
                "asdfghjkl;'12"
            })
    void hold_what_everyone_tries_first(String password) {
        assertThat(GuessedPasswords.contain(password, OWN)).isTrue();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "four unrelated words here",
                "four other words there",
                "correct horse battery",
                "teapot-gravel-ninety",
                "xK9#mPq2vLw8",
                "moss lantern quarry",
                "my cat eats blue yoghurt",
                "password for a heron pond",
                "zrv7 kuhn plov 3"
            })
    void do_not_hold_a_few_unrelated_words_or_random_characters(String password) {
        assertThat(GuessedPasswords.contain(password, OWN)).isFalse();
    }
}
