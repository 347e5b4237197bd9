package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import org.earslot.page.Busy;
import org.junit.jupiter.api.Test;
import org.springframework.security.crypto.password.PasswordEncoder;

class PasswordsTest {

    private static final SignInLimits ONE_AT_ONCE = Limits.hashing(1, Duration.ofMillis(1));

    @Test
    void are_hashed_by_argon2id_with_a_salt_of_their_own() {
        Passwords passwords = new Passwords(ONE_AT_ONCE);
        String hash = passwords.hash("correct horse battery");
        assertThat(hash).startsWith("$argon2id$v=19$m=19456,t=2,p=1$").doesNotContain("correct");
        assertThat(passwords.hash("correct horse battery")).isNotEqualTo(hash);
        assertThat(passwords.matches("correct horse battery", hash)).isTrue();
        assertThat(passwords.matches("correct horse batteries", hash)).isFalse();
    }

    @Test
    void beyond_their_number_at_once_are_sent_away_until_a_turn_is_free() throws Exception {
        CountDownLatch hashing = new CountDownLatch(1);
        CountDownLatch released = new CountDownLatch(1);
        Passwords passwords = new Passwords(ONE_AT_ONCE, new SlowHash(hashing, released));
        CompletableFuture<Boolean> first = CompletableFuture.supplyAsync(() -> passwords.matches("a", "hash"));
        hashing.await();
        assertThatThrownBy(() -> passwords.matches("b", "hash"))
                .isInstanceOfSatisfying(
                        Busy.class, busy -> assertThat(busy.retryAfter()).isPositive());
        released.countDown();
        assertThat(first.get()).isTrue();
        assertThat(passwords.matches("b", "hash")).isTrue();
    }

    @Test
    void are_compared_for_nobodys_name_too() {
        CountDownLatch open = new CountDownLatch(0);
        SlowHash hash = new SlowHash(new CountDownLatch(1), open);
        new Passwords(ONE_AT_ONCE, hash).matchNobody("a", "10.0.0.1");
        assertThat(hash.comparisons).hasValue(1);
    }

    /** Says when it begins and goes on when it is let. */
    private static final class SlowHash implements PasswordEncoder {

        private final CountDownLatch begun;
        private final CountDownLatch released;
        private final AtomicInteger comparisons = new AtomicInteger();

        SlowHash(CountDownLatch begun, CountDownLatch released) {
            this.begun = begun;
            this.released = released;
        }

        @Override
        public String encode(CharSequence password) {
            return "hash";
        }

        @Override
        public boolean matches(CharSequence password, String hash) {
            comparisons.incrementAndGet();
            begun.countDown();
            try {
                released.await();
            } catch (InterruptedException e) {
                throw new IllegalStateException(e);
            }
            return true;
        }
    }
}
