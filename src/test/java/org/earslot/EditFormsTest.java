package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Accounts;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.kit.Kit;
import org.earslot.day.ClockEvent;
import org.earslot.day.Findings;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Outcome;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.visit.EarRecord;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Every form that changes something already there is opened twice and saved twice: the second save is refused. */
@PageTest
class EditFormsTest {

    private static final String FIRST = "Alpha7";
    private static final String SECOND = "Beta8";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private RunningDay running;

    @Autowired
    private SettableClock clock;

    @Autowired
    private Kit kit;

    @Autowired
    private OtherVisitKinds kinds;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private Accounts accounts;

    private RequestPostProcessor lead;
    private List<String> pages;

    @BeforeEach
    void a_clinic_with_something_of_each_kind() {
        clock.set(Instant.parse("2026-03-03T08:55:00Z"));
        TestClinics.TestClinic clinic = clinics.open();
        lead = SignedIn.lead(clinic.id());
        Referral referral = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        kit.unit(clinic.id(), Optional.empty(), "Suction", Method.MICROSUCTION, null, true);
        kinds.save(new OtherVisitKind(UUID.randomUUID(), clinic.id(), "Moulds", 20));
        String name = "desk-" + UUID.randomUUID();
        accountAdministration.admit(clinic.id(), name, "Desk", Role.RECEPTIONIST, null);
        UUID account = accounts.findBySignInName(name).orElseThrow().id();
        pages = List.of(
                "/setup",
                "/setup/kit",
                "/setup/letters/aftercare",
                "/setup/red-flags",
                "/setup/cautions/tinnitus/irrigation",
                "/setup/waiting-list",
                "/setup/trays",
                "/referrals/recalls",
                "/accounts/" + account,
                "/appointments/" + referredOn(clinic, referral),
                "/referrals/" + referral.id() + "/edit");
    }

    /** An appointment of today whose findings say that the patient is referred on. */
    private UUID referredOn(TestClinics.TestClinic clinic, Referral referral) {
        UUID id = diary.appointment(
                clinic,
                referral,
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        for (ClockEvent event : List.of(ClockEvent.ARRIVED, ClockEvent.CALLED_IN, ClockEvent.FINISHED)) {
            running.record(clinic.id(), id, event);
            clock.advance(Duration.ofMinutes(10));
        }
        EarRecord none = new EarRecord(List.of(Method.MICROSUCTION), EarFindings.UNKNOWN, Outcome.NOT_REMOVED, null);
        running.recordFindings(clinic.id(), id, Findings.of(Map.of(Ear.RIGHT, none), NextStep.REFER_ON), "p1");
        return id;
    }

    /** A form as it was opened: where it is sent, and its fields. */
    private record Form(String action, Map<String, List<String>> fields) {

        String kind() {
            return action.replaceAll("[0-9a-f]{8}-[0-9a-f-]{27}", "*")
                    .replaceAll("(/setup/(?:red-flags|letters|trays)/).*", "$1*");
        }
    }

    @Test
    void a_second_save_from_the_same_version_is_refused() throws Exception {
        Set<String> walked = new TreeSet<>();
        for (String page : pages) {
            for (Element listed : versioned(page)) {
                Element shown = again(page, listed);
                Form form = read(shown);
                if (!walked.add(form.kind())) {
                    continue;
                }
                assertThat(send(altered(shown, form, FIRST, 1)))
                        .as("first save of %s", form.action())
                        .isBetween(300, 399);
                assertThat(send(altered(shown, form, SECOND, 2)))
                        .as("second save of %s", form.action())
                        .isEqualTo(409);
                assertThat(open(page).text())
                        .as("%s after the second save", page)
                        .doesNotContain(SECOND);
            }
        }
        assertThat(walked)
                .containsExactlyInAnyOrder(
                        "/accounts/*",
                        "/appointments/*/findings",
                        "/appointments/*/referred-on",
                        "/appointments/*/times",
                        "/referrals/*",
                        "/setup/cautions/tinnitus/irrigation",
                        "/setup/clinic",
                        "/setup/contact",
                        "/setup/kit/units",
                        "/setup/letters/*",
                        "/setup/other-visits/*",
                        "/setup/policy",
                        "/setup/practitioners/*",
                        "/setup/recall",
                        "/setup/red-flags",
                        "/setup/red-flags/*",
                        "/setup/rooms/*",
                        "/setup/sessions/*",
                        "/setup/trays/*",
                        "/setup/waiting-list");
    }

    /** Of two who press at the same moment one is refused as well. */
    @Test
    void of_two_saves_at_the_same_moment_one_is_refused() throws Exception {
        ExecutorService two = Executors.newFixedThreadPool(2);
        try {
            for (String page : List.of("/setup", pages.get(pages.size() - 2), pages.get(pages.size() - 1))) {
                Set<String> walked = new TreeSet<>();
                for (Element listed : versioned(page)) {
                    Element shown = again(page, listed);
                    Form form = read(shown);
                    if (!walked.add(form.kind())) {
                        continue;
                    }
                    List<Form> both = List.of(altered(shown, form, FIRST, 1), altered(shown, form, SECOND, 2));
                    List<Future<Integer>> sent = both.stream()
                            .map(one -> two.submit(() -> send(one)))
                            .toList();
                    List<Integer> answers = new ArrayList<>();
                    for (Future<Integer> one : sent) {
                        answers.add(one.get());
                    }
                    assertThat(answers).as(form.action()).containsExactlyInAnyOrder(302, 409);
                }
            }
        } finally {
            two.shutdownNow();
        }
    }

    @Test
    void a_form_without_a_version_is_refused() throws Exception {
        for (String page : pages) {
            Element shown = versioned(page).get(0);
            Form form = altered(shown, read(shown), FIRST, 1);
            form.fields().remove("version");
            assertThat(send(form)).as(form.action()).isEqualTo(409);
        }
    }

    private List<Element> versioned(String page) throws Exception {
        List<Element> forms = open(page).select("form[method=post]").stream()
                .filter(form -> form.selectFirst("input[name=version]") != null)
                .toList();
        assertThat(forms).as("forms with a version on %s", page).isNotEmpty();
        return forms;
    }

    /** The form as it is now: another form of the page may have changed the same row. */
    private Element again(String page, Element listed) throws Exception {
        return versioned(page).stream()
                .filter(form -> form.attr("action").equals(listed.attr("action")))
                .filter(form -> form.select("input[name=id]")
                        .val()
                        .equals(listed.select("input[name=id]").val()))
                .findFirst()
                .orElseThrow();
    }

    private Document open(String page) throws Exception {
        return Jsoup.parse(
                mvc.perform(get(page).with(lead)).andReturn().getResponse().getContentAsString(StandardCharsets.UTF_8));
    }

    private int send(Form form) throws Exception {
        MockHttpServletRequestBuilder request = post(form.action()).with(lead).with(csrf());
        form.fields().forEach((name, values) -> request.param(name, values.toArray(String[]::new)));
        return mvc.perform(request).andReturn().getResponse().getStatus();
    }

    private static Form read(Element form) {
        Map<String, List<String>> fields = new LinkedHashMap<>();
        for (Element input : form.select("input[name], textarea[name], select[name]")) {
            boolean ticks = List.of("radio", "checkbox").contains(input.attr("type"));
            if (!ticks || input.hasAttr("checked")) {
                String value = switch (input.tagName()) {
                    case "textarea" -> input.wholeText();
                    case "select" -> chosen(input);
                    default -> input.attr("value");
                };
                fields.computeIfAbsent(input.attr("name"), any -> new ArrayList<>())
                        .add(value);
            }
        }
        return new Form(form.attr("action"), fields);
    }

    private static String chosen(Element select) {
        Element chosen = select.selectFirst("option[selected]");
        Element first = select.selectFirst("option");
        return chosen != null ? chosen.val() : first == null ? "" : first.val();
    }

    /** The form with one of its fields changed: a text if it has one, else a day, a number or a choice. */
    private static Form altered(Element shown, Form form, String word, int step) {
        Map<String, List<String>> fields = new LinkedHashMap<>(form.fields());
        Optional<Element> text = shown.select("input:not([type]), input[type=text], textarea").stream()
                .filter(input -> !input.attr("name").equals("localNumber")
                        && !input.attr("name").equals("timeZone"))
                .findFirst();
        Element day = shown.selectFirst("input[type=date]");
        Element number = shown.selectFirst("input[type=number]:not([name=gridMinutes])");
        Element time = shown.selectFirst("input[type=time]");
        if (text.isPresent()) {
            fields.merge(text.get().attr("name"), List.of(word), (old, added) -> List.of(old.get(0) + " " + word));
        } else if (day != null) {
            fields.put(day.attr("name"), List.of("2027-01-0" + step));
        } else if (time != null) {
            fields.put(time.attr("name"), List.of("08:5" + step));
        } else if (number != null) {
            fields.put(number.attr("name"), List.of(String.valueOf(Integer.parseInt(number.val()) + step)));
        } else {
            Element select = shown.selectFirst("select");
            String other = select.select("option").stream()
                    .map(Element::val)
                    .filter(value -> !value.equals(chosen(select)))
                    .reduce((first, last) -> last)
                    .orElseThrow();
            fields.put(select.attr("name"), List.of(other));
        }
        return new Form(form.action(), fields);
    }
}
