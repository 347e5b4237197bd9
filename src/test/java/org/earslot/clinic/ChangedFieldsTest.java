package org.earslot.clinic;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class ChangedFieldsTest {

    /** Two values. */
    public record Pair(String first, Integer second) {}

    @Test
    void are_named_and_their_values_are_not() {
        Pair before = new Pair("secret", 1);
        assertThat(ChangedFields.between(before, new Pair("secret", 1))).isEmpty();
        assertThat(ChangedFields.between(before, new Pair("secret", null))).containsExactly("second");
        assertThat(ChangedFields.between(before, new Pair("other", 2))).containsExactly("first", "second");
    }
}
