package org.earslot.clinic;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalTime;
import java.util.stream.Stream;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.junit.jupiter.api.Test;
import org.springframework.context.support.ResourceBundleMessageSource;

/** Everything that the set-up may refuse can be said beside the field that is wrong. */
class SetUpRefusalTest {

    private static final TimeSpan MORNING = new TimeSpan(LocalTime.of(9, 0), LocalTime.of(12, 30));
    private static final TimeSpan LATER = new TimeSpan(LocalTime.of(11, 0), LocalTime.of(15, 0));

    private final Messages messages = new Messages(texts());

    /** A problem as it is read. */
    private record Said(String field, String given, String allowed, String remedy) {}

    private Said said(SetUpRefusal refusal) {
        Problem problem = Problem.of(refusal);
        return new Said(
                problem.field(), problem.given(), messages.say(problem.allowed()), messages.say(problem.remedy()));
    }

    @Test
    void says_what_was_given_what_is_allowed_and_what_to_do() {
        assertThat(said(SetUpRefusal.breakOutside(LATER, MORNING)))
                .isEqualTo(new Said(
                        "breakFrom",
                        "11:00 to 15:00",
                        "a break from 09:00 to 12:30",
                        "move the break inside the session"));
        assertThat(said(SetUpRefusal.coverBusy(MORNING, LATER)))
                .isEqualTo(new Said(
                        "practitioner",
                        "",
                        "someone free from 09:00 to 12:30",
                        "choose another, or end their session 11:00 to 15:00 first"));
        assertThat(said(SetUpRefusal.slotsCrossed(95, 90)))
                .isEqualTo(new Said(
                        "leastSlotMinutes",
                        "95",
                        "at most the longest slot, 90",
                        "shorten the one or lengthen the other"));
    }

    @Test
    void says_every_refusal() {
        Stream<SetUpRefusal> all = Stream.of(
                SetUpRefusal.nameTaken("P1"),
                SetUpRefusal.notOfClinic("room"),
                SetUpRefusal.breakOutside(LATER, MORNING),
                SetUpRefusal.sessionThen(MORNING, LATER),
                SetUpRefusal.coverBusy(MORNING, LATER),
                SetUpRefusal.slotsCrossed(95, 90));
        assertThat(all)
                .allSatisfy(refusal -> {
                    assertThat(said(refusal).allowed()).doesNotContain("{", "clinic.refusal");
                    assertThat(said(refusal).remedy()).isNotBlank().doesNotContain("{", "clinic.refusal");
                })
                .extracting(SetUpRefusal::why)
                .containsExactlyInAnyOrder(SetUpRefusal.Code.values());
    }

    private static ResourceBundleMessageSource texts() {
        ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
        messages.setBasenames("messages/clinic");
        messages.setDefaultEncoding("UTF-8");
        messages.setAlwaysUseMessageFormat(true);
        return messages;
    }
}
