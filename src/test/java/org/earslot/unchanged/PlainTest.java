package org.earslot.unchanged;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** What differs from start to start is taken out of a page, and nothing else. */
class PlainTest {

    private static final String PAGE = """
            <html><head><link rel="stylesheet" href="/styles/base-%s.css">
            <script src="/scripts/%<s/page.js"></script></head><body>
            <form><input name="_csrf" type="hidden" value="%s"></form>
            <a href="/appointments/%s">%s</a> <a href="/referrals/%s">2026-03-03.%s</a>
            <table><thead><tr><th>Visits</th><th>Seconds</th></tr></thead>
            <tbody><tr><td>20</td><td>%s</td></tr></tbody></table></body></html>
            """;
    private static final String STAMP = "0123456789abcdef0123456789abcdef";
    private static final String ONE = "11111111-2222-4333-8444-555555555555";
    private static final String OTHER = "99999999-2222-4333-8444-555555555555";

    @Test
    void ids_tokens_stamps_and_durations_say_nothing() {
        String before = Plain.page(PAGE.formatted(STAMP, "token", ONE, "09:20", OTHER, "c34e13ef", "0.38"));
        String now =
                Plain.page(PAGE.formatted(STAMP.replace('0', 'f'), "another", OTHER, "09:20", ONE, "1c54d6dc", "0.41"));
        assertThat(now)
                .isEqualTo(before)
                .contains("/appointments/#1", "/referrals/#2", "/styles/base.css", "/scripts/page.js", "<td>20</td>");
    }

    @Test
    void another_time_or_another_of_two_ids_shows() {
        String before = Plain.page(PAGE.formatted(STAMP, "token", ONE, "09:20", OTHER, "c34e13ef", "0.38"));
        String later = Plain.page(PAGE.formatted(STAMP, "token", ONE, "09:25", OTHER, "c34e13ef", "0.38"));
        String swapped = Plain.page(PAGE.formatted(STAMP, "token", ONE, "09:20", ONE, "c34e13ef", "0.38"));
        assertThat(later).isNotEqualTo(before);
        assertThat(swapped).isNotEqualTo(before);
    }
}
