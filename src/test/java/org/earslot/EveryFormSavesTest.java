package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
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
import org.earslot.testing.EveryAddress;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.EarRecord;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/**
 * Every form that shows what is stored, on every page of a filled clinic: each of its fields is changed by itself and
 * saved, and the page read again shows what was saved.
 */
@PageTest
class EveryFormSavesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

    /** Forms that add, search or do something and show nothing stored. Everything else is read back. */
    private static final List<String> DO_SOMETHING = List.of(
            "/sign-out",
            "/sign-in",
            "/first-sign-in",
            "/appointments/[^/]+/(arrival|cancel|follow-up|turn|told|move|late-not-seen)",
            "/appointments",
            "/day/[^/]+/(fit-in|fit-in/card|other-visit|close|reopen|sheet/softener|fix)",
            "/referrals/[^/]+/(closed|override|waiting|red-flag/.*)",
            "/referrals",
            "/patients.*",
            "/accounts",
            "/accounts/integrations",
            "/import.*",
            "/password",
            "/plan",
            "/plan/template",
            "/estimate.*",
            "/estimator/.*",
            "/review/.*",
            "/slots.*",
            "/kit/.*",
            "/setup/(practitioners|rooms|other-visits|sessions|exceptions|trays|cover)",
            "/setup/kit/(kinds|stock|units)");

    /** Fields that count only together with another, or that ask first; stored nowhere by themselves. */
    private static final List<String> NOT_BY_ITSELF = List.of(
            ".*/findings (right|left)\\.method[2-4]",
            // Of a caution that is not ticked; tinnitus is.
            "/referrals/[^/]+ (ear|since|method|allClear)\\.(?!tinnitus).*",
            "/referrals/[^/]+ unsure\\.tinnitus=yes",
            // Recorded of the patient by then: ticked again, to be confirmed, until the list is read out.
            "/referrals/[^/]+ cautions=tinnitus",
            "/referrals/[^/]+ (noneFlagged=yes|noneOfThese=yes|clinician|localNumber)",
            // Asks for the own password as well.
            "/accounts/second-factor leads",
            "/setup/cautions/.* unit\\d",
            // Asks for a source as well.
            "/setup/cautions/.* verdict1");

    /** Fields that mean nothing without another: by themselves they are refused, with the reason beside a field. */
    private static final List<String> REFUSED_BY_ITSELF =
            List.of(".*/findings (right|left)\\.unsuitable", "/setup/cautions/.* (within1|source1|allClear[01]=yes)");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private RunningDay running;

    @Autowired
    private OtherVisitKinds kinds;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private SettableClock clock;

    private final Map<String, Set<String>> ids = new TreeMap<>();
    private final List<String> problems = new ArrayList<>();
    private final Set<String> unchanged = new TreeSet<>();
    private final Set<String> unversioned = new TreeSet<>();
    private RequestPostProcessor lead;

    @BeforeEach
    void a_filled_clinic() {
        ids.clear();
        clock.set(Instant.parse("2026-03-03T08:00:00Z"));
        TestClinic clinic = clinics.open();
        lead = SignedIn.lead(clinic.id());
        kinds.save(new OtherVisitKind(UUID.randomUUID(), clinic.id(), "Impression", 20));
        accountAdministration.admit(clinic.id(), "r" + UUID.randomUUID(), "Receptionist", Role.RECEPTIONIST, null);
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        add("/referrals", referral.id());
        add("/patients", referral.patientId());
        UUID seen = fixture.appointment(clinic, DAY.atTime(9, 0), 30);
        add("/appointments", seen);
        clock.set(Instant.parse("2026-03-03T09:01:00Z"));
        running.record(clinic.id(), seen, ClockEvent.CALLED_IN);
        clock.set(Instant.parse("2026-03-03T09:20:00Z"));
        running.record(clinic.id(), seen, ClockEvent.FINISHED);
        // Shows the form of what the letter to the next service says.
        EarRecord none = new EarRecord(List.of(Method.MICROSUCTION), EarFindings.UNKNOWN, Outcome.NOT_REMOVED, null);
        running.recordFindings(clinic.id(), seen, Findings.of(Map.of(Ear.RIGHT, none), NextStep.REFER_ON), "p1");
        clock.set(Instant.parse("2026-03-03T11:00:00Z"));
        add("date", DAY);
        add("month", "2026-02");
        add("caution", "tinnitus");
        add("method", "irrigation");
        add("kind", "patient");
    }

    @Test
    void saves_what_it_says_it_saved() throws Exception {
        Set<String> addresses = new LinkedHashSet<>(new EveryAddress(ids).of(mappings));
        Set<String> tried = new TreeSet<>();
        List<String> pages = new ArrayList<>(addresses);
        for (int i = 0; i < pages.size(); i++) {
            String address = pages.get(i);
            Optional<Document> page = address.startsWith("/api/") ? Optional.empty() : page(address);
            if (page.isEmpty()) {
                continue;
            }
            // Pages with an id that only a link knows.
            page.get().select("main a[href^=/setup], main a[href^=/accounts]").eachAttr("href").stream()
                    .map(link -> link.replaceFirst("#.*", ""))
                    .filter(link ->
                            addresses.stream().noneMatch(known -> likened(known).equals(likened(link))))
                    .filter(addresses::add)
                    .forEach(pages::add);
            for (Element form : page.get().select("main form[method=post]")) {
                String action = form.attr("action");
                if (DO_SOMETHING.stream().noneMatch(action::matches)
                        && !fields(form).isEmpty()
                        && tried.add(likened(action))) {
                    if (form.select("input[type=hidden][name=version]").val().isEmpty()) {
                        unversioned.add(likened(action));
                    }
                    changeEachField(address, action);
                }
            }
        }
        assertThat(problems).isEmpty();
        assertThat(unversioned)
                .as("forms that overwrite what somebody else saved meanwhile")
                .isEmpty();
        assertThat(unchanged).as("fields of which no other value was taken").isEmpty();
        assertThat(tried)
                .hasSizeGreaterThan(10)
                .contains("/appointments/{id}/findings", "/appointments/{id}/referred-on");
    }

    private void add(String variable, Object value) {
        ids.computeIfAbsent(variable, any -> new TreeSet<>()).add(value.toString());
    }

    private void changeEachField(String address, String action) throws Exception {
        Element form = form(address, action);
        for (String field : fields(form).keySet()) {
            String before = fields(form).get(field);
            boolean taken = NOT_BY_ITSELF.stream().anyMatch((action + " " + field)::matches);
            boolean refused = REFUSED_BY_ITSELF.stream().anyMatch((action + " " + field)::matches);
            for (String other : taken ? List.<String>of() : others(form, field)) {
                MockHttpServletResponse answer =
                        mvc.perform(filled(form, field, other)).andReturn().getResponse();
                if (answer.getStatus() >= 500) {
                    problems.add(action + " " + field + ": " + answer.getStatus());
                }
                if (refused) {
                    taken = true;
                    boolean told = answer.getStatus() == 400
                            && Jsoup.parse(answer.getContentAsString(StandardCharsets.UTF_8))
                                            .selectFirst(".problem")
                                    != null;
                    if (!told) {
                        problems.add(action + " " + field + ": " + other + " alone answered " + answer.getStatus());
                    }
                    continue;
                }
                if (answer.getStatus() / 100 == 3) {
                    taken = true;
                    form = form(address, action);
                    String after = fields(form).get(field);
                    if (!other.equals(after)) {
                        problems.add(action + " " + field + ": saved " + other + ", shows " + after);
                    }
                    mvc.perform(filled(form, field, before));
                    form = form(address, action);
                    break;
                }
            }
            if (!taken) {
                unchanged.add(action + " " + field);
            }
        }
    }

    private Optional<Document> page(String address) throws Exception {
        MockHttpServletResponse answer =
                mvc.perform(get(address).with(lead)).andReturn().getResponse();
        boolean html = String.valueOf(answer.getContentType()).startsWith("text/html");
        return answer.getStatus() == 200 && html
                ? Optional.of(Jsoup.parse(answer.getContentAsString(StandardCharsets.UTF_8)))
                : Optional.empty();
    }

    private Element form(String address, String action) throws Exception {
        return page(address).orElseThrow().select("main form[method=post]").stream()
                .filter(form -> form.attr("action").equals(action))
                .findFirst()
                .orElseThrow(() -> new AssertionError(address + " has no form " + action + " any more: " + problems));
    }

    /** The address without ids and codes: of the pages and forms alike, one is tried. */
    private static String likened(String address) {
        return address.replaceAll("[0-9a-f-]{36}", "{id}")
                .replaceFirst("^(/setup/(?:cautions|letters|red-flags|trays))/.*", "$1/{code}");
    }

    /** What the form shows, by field: a box by its name and value, yes or empty. */
    private static Map<String, String> fields(Element form) {
        Map<String, String> fields = new LinkedHashMap<>();
        for (Element control : form.select("input, select, textarea")) {
            String name = control.attr("name");
            if (name.isEmpty() || Set.of("hidden", "file", "password", "submit").contains(control.attr("type"))) {
                continue;
            }
            switch (control.attr("type")) {
                case "checkbox" -> fields.put(name + "=" + control.val(), control.hasAttr("checked") ? "yes" : "");
                case "radio" -> {
                    fields.putIfAbsent(name, "");
                    if (control.hasAttr("checked")) {
                        fields.put(name, control.val());
                    }
                }
                default -> fields.put(name, shown(control));
            }
        }
        return fields;
    }

    private static String shown(Element control) {
        if (control.tagName().equals("select")) {
            Element chosen =
                    Optional.ofNullable(control.selectFirst("option[selected]")).orElse(control.selectFirst("option"));
            return chosen == null ? "" : chosen.val();
        }
        return control.tagName().equals("textarea") ? control.wholeText().strip() : control.val();
    }

    private MockHttpServletRequestBuilder filled(Element form, String field, String other) {
        MockHttpServletRequestBuilder request =
                post(form.attr("action")).with(lead).with(csrf());
        form.select("input[type=hidden]").forEach(hidden -> request.param(hidden.attr("name"), hidden.val()));
        Map<String, String> values = new LinkedHashMap<>(fields(form));
        values.put(field, other);
        values.forEach((name, value) -> {
            int box = name.indexOf('=');
            if (box < 0) {
                request.param(name, value);
            } else if (value.equals("yes")) {
                request.param(name.substring(0, box), name.substring(box + 1));
            }
        });
        Element button = form.selectFirst("button");
        if (button != null && button.hasAttr("name")) {
            request.param(button.attr("name"), button.val());
        }
        return request;
    }

    /** Other values for a field, the likeliest to be taken first. */
    private static List<String> others(Element form, String field) {
        String now = fields(form).get(field);
        if (field.contains("=")) {
            return List.of("yes".equals(now) ? "" : "yes");
        }
        Element control = control(form, field);
        Stream<String> all = switch (control.tagName().equals("select") ? "select" : control.attr("type")) {
            case "select" -> control.select("option").stream().map(Element::val).filter(value -> !value.isEmpty());
            case "radio" ->
                form.select("input[type=radio]").stream()
                        .filter(radio -> radio.attr("name").equals(field))
                        .map(Element::val);
            case "date" -> Stream.of("2026-03-10", "2026-02-20", "2027-01-04", "1950-02-03", "2025-06-01");
            case "time" -> times(now);
            default -> texts(now);
        };
        return all.filter(value -> !value.equals(now)).distinct().toList();
    }

    private static Element control(Element form, String field) {
        return form.select("input, select, textarea").stream()
                .filter(each -> each.attr("name").equals(field))
                .findFirst()
                .orElseThrow();
    }

    private static Stream<String> times(@Nullable String now) {
        return now == null || now.isEmpty()
                ? Stream.of("08:55", "09:21", "09:25", "10:00", "16:00")
                : Stream.of(
                        LocalTime.parse(now).plusMinutes(1).toString(),
                        LocalTime.parse(now).minusMinutes(1).toString());
    }

    private static Stream<String> texts(@Nullable String now) {
        if (now != null && Pattern.matches("-?\\d+", now)) {
            int number = Integer.parseInt(now);
            return Stream.of(number + 1, number - 1, number + 5, number - 5).map(String::valueOf);
        }
        if (now != null && Pattern.matches("\\d+\\.\\d+", now)) {
            return Stream.of("1.5", "2.5", "0.2", "2", "1");
        }
        return Stream.of(
                ("Changed " + now).strip(), "Changed", "3", "01632 960999", "changed@example.org", "Europe/Paris");
    }
}
