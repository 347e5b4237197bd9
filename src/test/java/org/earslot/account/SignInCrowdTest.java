package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;

/** A crowd of junk at the sign-in keeps no honest person out. */
@PageTest
class SignInCrowdTest {

    private static final String PASSWORD = "correct horse battery";
    private static final int JUNK = 40;
    private static final String JUNK_ADDRESS = "203.0.113.7";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Accounts accounts;

    @Autowired
    private Passwords passwords;

    @Autowired
    private SettableClock clock;

    private String name;

    @BeforeEach
    void a_lead() {
        clock.advance(Duration.ofHours(1));
        ClinicId clinic = clinics.open().id();
        name = "lead-" + UUID.randomUUID();
        accounts.save(new Account(
                UUID.randomUUID(), clinic, name, "A lead", passwords.hash(PASSWORD), Role.LEAD, null, clock.instant()));
    }

    @ParameterizedTest
    @ValueSource(strings = {JUNK_ADDRESS, "198.51.100.9"})
    void forty_at_once_do_not_refuse_the_right_password(String honestAddress) throws Exception {
        CountDownLatch start = new CountDownLatch(1);
        List<Callable<MockHttpServletResponse>> crowd = new ArrayList<>();
        for (int i = 0; i < JUNK; i++) {
            // From elsewhere the crowd may even go for the same name.
            String junk = i % 2 == 0 && !honestAddress.equals(JUNK_ADDRESS) ? name : "nobody" + i;
            crowd.add(() -> signIn(junk, "junk junk junk", JUNK_ADDRESS, start));
        }
        crowd.add(() -> signIn(name, PASSWORD, honestAddress, start));
        ExecutorService threads = Executors.newFixedThreadPool(crowd.size());
        try {
            List<Future<MockHttpServletResponse>> answers = new ArrayList<>();
            crowd.forEach(one -> answers.add(threads.submit(one)));
            start.countDown();
            for (Future<MockHttpServletResponse> answer : answers.subList(0, JUNK)) {
                assertThat(answer.get().getRedirectedUrl()).isEqualTo("/sign-in?refused");
            }
            assertThat(answers.get(JUNK).get().getRedirectedUrl()).isEqualTo("/");
        } finally {
            threads.shutdownNow();
        }
    }

    private MockHttpServletResponse signIn(String who, String password, String address, CountDownLatch start)
            throws Exception {
        start.await();
        return mvc.perform(post("/sign-in")
                        .with(csrf())
                        .remoteAddress(address)
                        .param("username", who)
                        .param("password", password))
                .andReturn()
                .getResponse();
    }
}
