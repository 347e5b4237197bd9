package org.earslot.exchange;

import java.io.IOException;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.PatientNames;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Rooms;
import org.earslot.page.CsvWriter;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;

/** Writes stored visits as a visit log that the import takes back without loss; visits still open are left out. */
@Service
public class VisitLogExport {

    private static final LocalDate FIRST = LocalDate.of(1900, 1, 1);
    private static final LocalDate LAST = LocalDate.of(2199, 12, 31);

    private final VisitRows rows;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final ClinicClock clock;
    private final PatientNames patients;
    private final ApplicationEventPublisher events;

    VisitLogExport(
            VisitRows rows,
            Practitioners practitioners,
            Rooms rooms,
            ClinicClock clock,
            PatientNames patients,
            ApplicationEventPublisher events) {
        this.rows = rows;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.clock = clock;
        this.patients = patients;
        this.events = events;
    }

    /** Writes the visits from {@code first} to {@code last}, both included, page by page; empty is without end. */
    public void write(ClinicId clinicId, Optional<LocalDate> first, Optional<LocalDate> last, Appendable out)
            throws IOException {
        events.publishEvent(new Audited.Entry(
                clinicId,
                "visit-log-exported",
                "visit-log",
                null,
                "from " + first.map(LocalDate::toString).orElse("the first") + " to "
                        + last.map(LocalDate::toString).orElse("the last")));
        Map<UUID, String> names = new HashMap<>();
        practitioners.findByClinicIdOrderByName(clinicId).forEach(p -> names.put(p.id(), p.name()));
        rooms.findByClinicIdOrderByName(clinicId).forEach(room -> names.put(room.id(), room.name()));
        CsvWriter writer = new CsvWriter(out);
        writer.write(VisitColumn.headings());
        ZoneId zone = clock.zone(clinicId);
        LocalDate date = first.orElse(FIRST);
        String visitRef = "";
        List<List<String>> page;
        do {
            page = rows.over(clinicId, date, visitRef, last.orElse(LAST), zone, names);
            Set<UUID> shown = patients.numbered(
                    clinicId,
                    page.stream()
                            .map(cells -> cells.get(VisitColumn.PATIENT_REF.ordinal()))
                            .distinct()
                            .toList());
            if (!shown.isEmpty()) {
                events.publishEvent(Audited.viewed(clinicId, "visit log export", shown));
            }
            for (List<String> cells : page) {
                writer.write(cells);
                date = LocalDate.parse(cells.get(VisitColumn.DATE.ordinal()));
                visitRef = cells.get(VisitColumn.VISIT_ID.ordinal());
            }
        } while (page.size() == VisitRows.PAGE);
    }
}
