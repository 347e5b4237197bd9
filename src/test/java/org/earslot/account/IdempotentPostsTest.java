package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.earslot.account.IdempotentPosts.Answer;
import org.earslot.account.IdempotentPosts.Known;
import org.earslot.account.IdempotentPosts.Post;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** Of requests with one key one is done, on both databases. */
class IdempotentPostsTest {

    abstract static class Posts {

        @Autowired
        private TestClinics clinics;

        @Autowired
        private IdempotentPosts posts;

        private ClinicId clinic;

        @BeforeEach
        void a_clinic() {
            clinic = clinics.open().id();
        }

        @Test
        void one_of_many_at_once_begins() throws Exception {
            int many = 8;
            ExecutorService threads = Executors.newFixedThreadPool(many);
            CountDownLatch all = new CountDownLatch(many);
            try {
                List<Future<Known>> asked = IntStream.range(0, many)
                        .mapToObj(i -> threads.submit(() -> {
                            all.countDown();
                            all.await();
                            return posts.begin(post("K", "same"));
                        }))
                        .toList();
                List<Known> known = new ArrayList<>();
                for (Future<Known> one : asked) {
                    known.add(one.get());
                }
                assertThat(known).containsOnlyOnce(Known.NOTHING);
                assertThat(known).filteredOn(Known::running).hasSize(many - 1);
            } finally {
                threads.shutdownNow();
            }
        }

        @Test
        void the_answer_is_given_again() {
            Answer answer = new Answer(201, "application/json", "/api/v1/referrals/1", null, "{\"id\":\"1 \u20ac\"}");
            assertThat(posts.begin(post("K", "same"))).isEqualTo(Known.NOTHING);
            posts.answered(post("K", "same"), answer);
            assertThat(posts.begin(post("K", "same"))).isEqualTo(new Known(false, false, answer));
            assertThat(posts.begin(post("K", "other")).other()).isTrue();
            posts.forget(post("K", "same"));
            assertThat(posts.begin(post("K", "other"))).isEqualTo(Known.NOTHING);
        }

        private Post post(String key, String hash) {
            return new Post(new SignedInUser.Program(clinic, "program"), key, hash);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Posts {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Posts {}
}
