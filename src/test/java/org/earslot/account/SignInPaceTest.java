package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.stream.IntStream;
import org.earslot.testing.SettableClock;
import org.junit.jupiter.api.Test;

class SignInPaceTest {

    private static final String HERE = "10.0.0.1";
    private static final String ELSEWHERE = "10.0.0.2";

    private final SettableClock clock = new SettableClock(Instant.parse("2026-03-03T09:00:00Z"));
    private final SignInPace pace = new SignInPace(Limits.hashing(2, Duration.ofSeconds(10)), clock);

    @Test
    void slows_a_name_down_where_wrong_passwords_come_from_and_nowhere_else() {
        fail("lead", HERE, 5);
        assertThat(pace.allows("lead", HERE)).isFalse();
        assertThat(pace.allows("lead", ELSEWHERE)).isTrue();
        assertThat(pace.allows("reception", HERE)).isTrue();
    }

    @Test
    void doubles_the_wait_up_to_its_limit() {
        fail("lead", HERE, 5);
        for (long seconds : new long[] {5, 10, 20, 40, 80, 160, 300, 300}) {
            clock.advance(Duration.ofSeconds(seconds).minusMillis(1));
            assertThat(pace.allows("lead", HERE)).as("before %d s", seconds).isFalse();
            clock.advance(Duration.ofMillis(1));
            assertThat(pace.allows("lead", HERE)).as("after %d s", seconds).isTrue();
            pace.failed("lead", HERE);
        }
    }

    @Test
    void forgets_wrong_ones_before_a_right_one() {
        fail("lead", HERE, 4);
        pace.succeeded("lead", HERE);
        fail("lead", HERE, 4);
        assertThat(pace.allows("lead", HERE)).isTrue();
    }

    @Test
    void takes_no_more_from_an_address_than_its_budget_and_refills_it() {
        for (int i = 0; i < 50; i++) {
            assertThat(pace.allows("name" + i, HERE)).isTrue();
            pace.failed("name" + i, HERE);
        }
        assertThat(pace.allows("another", HERE)).isFalse();
        assertThat(pace.allows("another", ELSEWHERE)).isTrue();
        clock.advance(Duration.ofSeconds(5));
        assertThat(pace.allows("another", HERE)).isTrue();
        assertThat(pace.allows("one more", HERE)).isFalse();
    }

    @Test
    void lets_a_name_in_past_a_spent_budget_that_has_signed_in_from_there_lately() {
        assertThat(pace.allows("lead", HERE)).isTrue();
        pace.succeeded("lead", HERE);
        for (int i = 0; i < 60; i++) {
            pace.allows("name" + i, HERE);
        }
        assertThat(pace.allows("name", HERE)).isFalse();
        assertThat(pace.allows("lead", HERE)).isTrue();
    }

    @Test
    void holds_no_more_names_than_its_size() {
        int asked = SignInPace.MAXIMUM_SIZE + 1_000;
        for (int i = 0; i < asked; i++) {
            for (int tries = 0; tries < 5; tries++) {
                pace.failed("name" + i, "address" + i);
            }
        }
        long slowedDown = IntStream.range(0, asked)
                .filter(i -> !pace.allows("name" + i, "address" + i))
                .count();
        assertThat(slowedDown).isBetween(SignInPace.MAXIMUM_SIZE / 2L, (long) SignInPace.MAXIMUM_SIZE);
    }

    @Test
    void many_other_names_do_not_make_it_forget_one_that_is_tried_again_and_again() {
        fail("lead", HERE, 5);
        for (int i = 0; i < 3 * SignInPace.MAXIMUM_SIZE; i++) {
            pace.failed("name" + i, "address" + i);
            if (i % 1_000 == 0) {
                assertThat(pace.allows("lead", HERE)).isFalse();
            }
        }
        assertThat(pace.allows("lead", HERE)).isFalse();
    }

    @Test
    void takes_all_addresses_of_one_ipv6_network_for_one() {
        assertThat(SourceAddress.network("2001:db8:1:2:3:4:5:6"))
                .isEqualTo(SourceAddress.network("2001:db8:1:2::9"))
                .isNotEqualTo(SourceAddress.network("2001:db8:1:3::9"));
        assertThat(SourceAddress.network("::1")).isEqualTo("0:0:0:0::/64");
        assertThat(SourceAddress.network("192.0.2.1")).isEqualTo("192.0.2.1");
    }

    private void fail(String name, String address, int times) {
        for (int i = 0; i < times; i++) {
            assertThat(pace.allows(name, address)).isTrue();
            pace.failed(name, address);
        }
    }
}
