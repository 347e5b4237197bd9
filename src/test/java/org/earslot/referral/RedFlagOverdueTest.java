package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.time.Instant;
import java.util.EnumMap;
import java.util.Map;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Intake.Taker;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** Until when a red flag is to be decided, in the strip of every page and on its referral, and "overdue" from then on. */
@PageTest
class RedFlagOverdueTest {

    private static final Instant TUESDAY = Instant.parse("2026-03-03T09:00:00Z");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Intake intake;

    @Autowired
    private RedFlagTriage triage;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void opens_a_clinic() {
        clinic = clinics.open();
    }

    @AfterEach
    void leaves_the_clock_as_it_was() {
        clock.set(TUESDAY);
    }

    /**
     * Within 24 hours is 24 hours of real time; the same day and the last of two weeks end at the clinic's midnight, also as
     * its clocks change. */
    @ParameterizedTest
    @CsvSource({
        "sudden_loss_recent,  2026-03-03T14:32:00Z, 2026-03-04T14:32:00Z, by 14:32 tomorrow",
        "sudden_loss_recent,  2026-03-28T14:32:00Z, 2026-03-29T14:32:00Z, by 15:32 tomorrow",
        "severe_ear_pain,     2026-03-03T14:32:00Z, 2026-03-04T00:00:00Z, by the end of today",
        "severe_ear_pain,     2026-03-29T12:00:00Z, 2026-03-29T23:00:00Z, by the end of today",
        "sudden_loss_earlier, 2026-03-03T14:32:00Z, 2026-03-18T00:00:00Z, by Tue 17 Mar",
        "sudden_loss_earlier, 2026-03-03T00:00:00Z, 2026-03-18T00:00:00Z, by Tue 17 Mar",
        "sudden_loss_earlier, 2026-03-20T14:32:00Z, 2026-04-03T23:00:00Z, by Fri 3 Apr",
        "sudden_loss_earlier, 2026-10-20T22:30:00Z, 2026-11-04T00:00:00Z, by Tue 3 Nov"
    })
    void is_overdue_at_the_due_time_and_not_a_second_before(String flag, Instant raised, Instant due, String by)
            throws Exception {
        clock.set(raised);
        Referral referral = raised(RedFlag.of(flag).orElseThrow());
        assertThat(strip()).contains(by).doesNotContain("overdue");
        clock.set(due.minusSeconds(1));
        assertThat(strip()).doesNotContain("overdue");
        assertThat(onItsPage(referral)).doesNotContain("overdue");
        clock.set(due);
        assertThat(strip()).contains("overdue");
        assertThat(onItsPage(referral)).contains("overdue");
        triage.clear(referral, "looked today", "p1");
        assertThat(strip()).isEmpty();
    }

    @Test
    void what_is_to_be_decided_now_says_now_and_never_looks_as_if_it_could_wait() throws Exception {
        clock.set(TUESDAY);
        raised(RedFlag.BUTTON_BATTERY);
        assertThat(strip()).contains("now").doesNotContain("overdue").doesNotContain("tomorrow");
        clock.set(TUESDAY.plusSeconds(90_000));
        assertThat(strip()).contains("now").doesNotContain("tomorrow");
    }

    /** An open page asks for the strip alone, and is answered nothing else, also once there is no flag left. */
    @Test
    void an_open_page_asks_again_for_the_strip_alone() throws Exception {
        clock.set(TUESDAY);
        Document open = Jsoup.parse(page("/kit"));
        assertThat(open.select("#flag-strip").hasAttr("hidden")).isTrue();
        assertThat(open.select("#flag-news[role=status]")).hasSize(1);
        String again = open.select("#flag-strip").attr("data-again");
        assertThat(Jsoup.parse(page(again)).select("a")).isEmpty();
        Referral referral = raised(RedFlag.BUTTON_BATTERY);
        Document strip = Jsoup.parse(page(again));
        assertThat(strip.select("a").attr("href")).isEqualTo("/referrals/" + referral.id());
        assertThat(strip.select("main, nav, title")).isEmpty();
        Document whole = Jsoup.parse(page("/kit"));
        assertThat(whole.select("#flag-strip").hasAttr("hidden")).isFalse();
        assertThat(whole.select("#flag-strip a").outerHtml())
                .isEqualTo(strip.select("a").outerHtml());
    }

    private Referral raised(RedFlag flag) {
        Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.noneOfThese());
        answers.put(flag, Answer.YES);
        String number = diary.patient(clinic, "Testley", "Pat").localNumber();
        return intake.takeIn(
                clinic.id(),
                number,
                DiaryFixture.details(Method.MICROSUCTION, Ears.LEFT, null, null, null)
                        .with(new RedFlagAnswers(answers, null)),
                new Taker("r", clinic.p1()));
    }

    private String strip() throws Exception {
        return Jsoup.parse(page("/kit")).select(".flag-strip").text();
    }

    private String onItsPage(Referral referral) throws Exception {
        return Jsoup.parse(page("/referrals/" + referral.id()))
                .select("#red-flag")
                .text();
    }

    private String page(String address) throws Exception {
        return mvc.perform(get(address).with(SignedIn.receptionist(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString();
    }
}
