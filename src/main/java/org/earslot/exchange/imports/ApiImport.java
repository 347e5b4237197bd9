package org.earslot.exchange.imports;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.List;
import java.util.Optional;
import org.earslot.exchange.csv.FieldError;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.stereotype.Component;

/** Takes a file from a program: the body to disk first, so that a slow sender holds nothing up, then in, then the report. */
@Component
public class ApiImport {

    private final ImportRuns runs;
    private final Uploads uploads;
    private final RunReport report;
    private final List<CsvImport> kinds;

    ApiImport(ImportRuns runs, Uploads uploads, RunReport report, List<CsvImport> kinds) {
        this.runs = runs;
        this.uploads = uploads;
        this.report = report;
        this.kinds = kinds;
    }

    /** Takes {@code body} in and writes what came of it, which can only begin once all is over. */
    public ImportRun take(ImportTerms terms, InputStream body) throws IOException {
        CsvImport kind = kinds.stream()
                .filter(each -> each.kind() == terms.kind())
                .findFirst()
                .orElseThrow();
        Upload upload = uploads.store(terms.clinicId(), terms.kind().code() + ".csv", body);
        try {
            Optional<ImportRun> run = runs.runNow(terms, upload, FileForm.own(kind.columns(), kind.required()));
            return run.orElseThrow(() -> Refused.conflict("import-under-way", "exchange.api.underWay"));
        } catch (UnreadableFile e) {
            throw Refused.invalid(e.faults().stream().map(ApiImport::problem).toList());
        } finally {
            uploads.remove(upload);
        }
    }

    /** Writes what came of the run. */
    public void report(ImportRun run, String idField, OutputStream to) {
        report.write(run, idField, to);
    }

    private static Problem problem(FieldError fault) {
        String field = fault.column().isEmpty() ? "file" : fault.column();
        return Problem.said(field, fault.value(), fault.reason(), fault.remedy());
    }
}
