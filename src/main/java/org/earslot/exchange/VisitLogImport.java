package org.earslot.exchange;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.imports.CsvImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportResult;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.exchange.imports.SetUpImport;
import org.earslot.exchange.imports.SetUpNames;
import org.earslot.visit.VisitsImported;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Takes visit logs in. */
@Component
class VisitLogImport implements CsvImport {

    private final VisitRows rows;
    private final SetUpImport setUpImport;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final TransactionTemplate inTransaction;

    VisitLogImport(
            VisitRows rows,
            SetUpImport setUpImport,
            ClinicClock clock,
            ApplicationEventPublisher events,
            PlatformTransactionManager transactions) {
        this.rows = rows;
        this.setUpImport = setUpImport;
        this.clock = clock;
        this.events = events;
        this.inTransaction = new TransactionTemplate(transactions);
    }

    @Override
    public ImportKind kind() {
        return ImportKind.VISIT_LOG;
    }

    @Override
    public List<String> columns() {
        return VisitColumn.headings();
    }

    @Override
    public List<String> required() {
        return VisitColumn.requiredHeadings();
    }

    @Override
    public String idColumn() {
        return VisitColumn.VISIT_ID.heading();
    }

    @Override
    public Taking begin(ImportTerms terms, ImportResult importResult) {
        return new Run(terms, importResult, setUpImport.names(terms, importResult), clock.zone(terms.clinicId()));
    }

    private final class Run implements Taking {

        private final ImportTerms terms;
        private final ImportResult importResult;
        private final SetUpNames names;
        private final ZoneId zone;
        private final RisingIds ids = new RisingIds(clock.now());

        Run(ImportTerms terms, ImportResult importResult, SetUpNames names, ZoneId zone) {
            this.terms = terms;
            this.importResult = importResult;
            this.names = names;
            this.zone = zone;
        }

        @Override
        public void take(List<Cells> lines) {
            Map<Cells, VisitRows.Row> good = new LinkedHashMap<>();
            for (Cells cells : lines) {
                row(cells).ifPresentOrElse(row -> good.put(cells, row), () -> importResult.reject(cells));
            }
            if (!good.isEmpty()) {
                store(good);
            }
        }

        private Optional<VisitRows.Row> row(Cells cells) {
            VisitLine line = VisitLine.read(cells, zone).orElse(null);
            if (line == null) {
                return Optional.empty();
            }
            Optional<UUID> practitioner = names.practitioner(cells, line.practitioner());
            UUID room = line.room().flatMap(name -> names.room(cells, name)).orElse(null);
            return practitioner
                    .filter(found -> cells.faults().isEmpty())
                    .map(found -> VisitRows.Row.of(line, found, room));
        }

        private void store(Map<Cells, VisitRows.Row> good) {
            Map<String, String> known = known(good);
            Map<String, VisitRows.Row> added = new LinkedHashMap<>();
            Map<String, VisitRows.Row> changed = new LinkedHashMap<>();
            good.forEach((cells, row) -> {
                String ref = row.line().visitRef();
                String before = known.get(ref);
                if (row.hash().equals(before)) {
                    importResult.repeat(cells);
                } else if (before != null && !terms.update()) {
                    VisitLog.noteOtherContent(cells);
                    importResult.reject(cells);
                } else {
                    (before == null || added.containsKey(ref) ? added : changed).put(ref, row);
                    known.put(ref, row.hash());
                    names.planned(row.practitionerId(), row.line().methodPlanned());
                    importResult.accept(row.line().patientRef());
                }
            });
            rows.insert(terms.clinicId(), zone, ids, new ArrayList<>(added.values()));
            rows.update(terms.clinicId(), zone, new ArrayList<>(changed.values()));
        }

        /** The hashes of what is there already; a visit of the clinic's own day has none stored, so it is computed. */
        private Map<String, String> known(Map<Cells, VisitRows.Row> good) {
            List<String> refs = good.values().stream()
                    .map(row -> row.line().visitRef())
                    .distinct()
                    .toList();
            Map<String, String> known = new HashMap<>(rows.known(terms.clinicId(), refs));
            List<String> unhashed = known.entrySet().stream()
                    .filter(entry -> entry.getValue().isEmpty())
                    .map(Map.Entry::getKey)
                    .toList();
            if (!unhashed.isEmpty()) {
                known.putAll(rows.hashes(terms.clinicId(), unhashed, zone));
            }
            return known;
        }

        @Override
        public void finish() {
            names.finish();
        }

        /** Within a transaction, so that listeners of either kind hear it, and find the visits there. */
        @Override
        public void committed(long accepted) {
            if (accepted > 0) {
                inTransaction.executeWithoutResult(
                        status -> events.publishEvent(new VisitsImported(terms.clinicId(), accepted)));
            }
        }
    }
}
