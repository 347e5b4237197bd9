package org.earslot.lived;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.earslot.lived.Clinic.Listed;
import org.jsoup.nodes.Element;
import tools.jackson.databind.JsonNode;

/** The screens of a day side by side: day page, running lists and day sheet against the interface for programs. */
final class Screens {

    private static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("HH:mm");
    private static final String VISIT = "table a[href~=^/appointments/[0-9a-f-]{36}$]";

    private final Clinic clinic;
    private final Journal journal;

    Screens(Clinic clinic, Journal journal) {
        this.clinic = clinic;
        this.journal = journal;
    }

    /** Fails where two screens of that day tell a different story, or something acknowledged is missing. */
    void agree(LocalDate date) {
        JsonNode day = clinic.day(date);
        List<Listed> visits = Clinic.visits(day);
        journal.holds(date, visits, clinic.program);
        Map<String, Element> rows = dayPage(date, visits);
        Set<String> lists = visits.stream().map(Listed::practitioner).collect(Collectors.toSet());
        for (String practitioner : lists) {
            runningList(
                    date,
                    practitioner,
                    visits.stream()
                            .filter(visit -> visit.practitioner().equals(practitioner))
                            .toList());
        }
        daySheet(date, visits, rows);
    }

    private Map<String, Element> dayPage(LocalDate date, List<Listed> visits) {
        Page page = clinic.reception.open("/day/" + date);
        Map<String, Element> rows = new HashMap<>();
        page.document()
                .select(VISIT)
                .forEach(link -> rows.put(link.attr("href").substring("/appointments/".length()), link));
        assertThat(rows.keySet())
                .as("visits on the day page of %s", date)
                .isEqualTo(visits.stream().map(Listed::id).collect(Collectors.toSet()));
        for (Listed visit : visits) {
            String row = rows.get(visit.id()).closest("tr").text();
            assertThat(row).as("day page, %s", visit.said()).contains(MINUTE.format(visit.bookedStart()));
            String latest = visit.has("finished") ? "finished" : visit.has("calledIn") ? "calledIn" : "arrived";
            if (visit.has(latest) && !visit.isOff()) {
                assertThat(row)
                        .as("day page, %s", visit.said())
                        .contains(visit.text(latest).substring(11, 16));
            }
        }
        return rows;
    }

    private void runningList(LocalDate date, String practitioner, List<Listed> visits) {
        Page page = clinic.practitioner(practitioner).open("/day/" + date + "/now");
        for (Listed visit : visits) {
            if (visit.isInRoom()) {
                assertThat(page.has("[action^=/appointments/" + visit.id() + "/], [href^=/appointments/" + visit.id()
                                + "]"))
                        .as("in the room, so on the running list of %s: %s", practitioner, visit.said())
                        .isTrue();
            } else if (!visit.isOff() && !visit.has("finished")) {
                assertThat(page.text())
                        .as("to come, so on the running list of %s: %s", practitioner, visit.said())
                        .satisfiesAnyOf(
                                text -> assertThat(text).contains(MINUTE.format(visit.bookedStart())),
                                text -> assertThat(visit.said().path("fitIn").asBoolean())
                                        .isTrue());
            }
        }
    }

    private void daySheet(LocalDate date, List<Listed> visits, Map<String, Element> rows) {
        String sheet = clinic.lead.open("/day/" + date + "/sheet").text();
        for (Listed visit : visits) {
            if (!visit.isOff()) {
                assertThat(sheet)
                        .as("day sheet of %s: %s", date, visit.said())
                        .contains(rows.get(visit.id()).text());
            }
        }
    }
}
