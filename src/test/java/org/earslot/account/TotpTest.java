package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TotpTest {

    private static final byte[] KEY = "12345678901234567890".getBytes(StandardCharsets.US_ASCII);

    /** RFC 6238, appendix B, the rows of SHA-1 (from memory). */
    @ParameterizedTest
    @CsvSource({
        "59, 94287082",
        "1111111109, 7081804",
        "1111111111, 14050471",
        "1234567890, 89005924",
        "2000000000, 69279037",
        "20000000000, 65353130"
    })
    void gives_the_codes_of_the_standard(long seconds, int code) {
        assertThat(Totp.code(KEY, seconds / 30, 8)).isEqualTo(code);
    }

    /** RFC 4226, appendix D (from memory). */
    @ParameterizedTest
    @CsvSource({"0, 755224", "1, 287082", "2, 359152", "3, 969429", "4, 338314", "9, 520489"})
    void gives_the_counters_codes_of_the_standard_below(long counter, int code) {
        assertThat(Totp.code(KEY, counter, 6)).isEqualTo(code);
    }

    /** RFC 4648, section 10, without padding. */
    @ParameterizedTest
    @CsvSource({"f, MY", "fo, MZXQ", "foo, MZXW6", "foob, MZXW6YQ", "fooba, MZXW6YTB", "foobar, MZXW6YTBOI"})
    void writes_secrets_in_base32(String text, String base32) {
        assertThat(Totp.base32(text.getBytes(StandardCharsets.US_ASCII))).isEqualTo(base32);
        assertThat(Totp.bytes(base32)).asString(StandardCharsets.US_ASCII).isEqualTo(text);
    }

    @Test
    void forgives_one_step_of_drift_and_takes_a_code_once() {
        String secret = Totp.base32(KEY);
        Instant now = Instant.ofEpochSecond(60);
        assertThat(Totp.step(secret, "755224", now, -1)).as("two steps back").isEmpty();
        assertThat(Totp.step(secret, "287 082", now, -1)).hasValue(1);
        assertThat(Totp.step(secret, "359152", now, 1)).hasValue(2);
        assertThat(Totp.step(secret, "969429", now, 2)).hasValue(3);
        assertThat(Totp.step(secret, "338314", now, -1)).as("two steps ahead").isEmpty();
        assertThat(Totp.step(secret, "359152", now, 2)).as("used").isEmpty();
        assertThat(Totp.step(secret, "1", now, -1)).isEmpty();
        assertThat(Totp.step(secret, "", now, -1)).isEmpty();
    }

    @Test
    void makes_secrets_of_160_bits() {
        assertThat(Totp.newSecret()).matches("[A-Z2-7]{32}").isNotEqualTo(Totp.newSecret());
    }
}
