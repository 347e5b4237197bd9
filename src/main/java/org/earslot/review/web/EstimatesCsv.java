package org.earslot.review.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.earslot.estimate.ModelReport;
import org.earslot.review.figures.EstimatedAndActual;
import org.earslot.review.figures.EstimatesOverTime;
import org.earslot.review.figures.Share;
import org.jspecify.annotations.Nullable;

/** What was estimated or reported against what came, as CSV. */
final class EstimatesCsv {

    private EstimatesCsv() {}

    static String estimated(EstimatedAndActual estimated) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (EstimatedAndActual.Line line : estimated.lines()) {
            for (EstimatedAndActual.Kept kept : line.kept()) {
                rows.add(Arrays.asList(
                        line.method(),
                        line.ears(),
                        line.visits(),
                        line.stoppedEarly(),
                        kept.estimated(),
                        kept.share(),
                        kept.low(),
                        kept.high()));
            }
        }
        return CsvText.of(
                List.of("method", "ears", "visits", "stopped_early", "estimated", "share", "low", "high"), rows);
    }

    static String spans(List<EstimatesOverTime.Span> spans) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (EstimatesOverTime.Span span : spans) {
            for (EstimatedAndActual.Kept kept : span.kept()) {
                rows.add(Arrays.asList(
                        span.first(),
                        span.last(),
                        span.method(),
                        span.ears(),
                        span.visits(),
                        span.stoppedEarly(),
                        kept.estimated(),
                        kept.share(),
                        kept.low(),
                        kept.high()));
            }
        }
        return CsvText.of(
                List.of(
                        "first_month",
                        "last_month",
                        "method",
                        "ears",
                        "visits",
                        "stopped_early",
                        "estimated",
                        "share",
                        "low",
                        "high"),
                rows);
    }

    static String tenths(EstimatesOverTime time) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        EstimatesOverTime.Tenths year = time.year();
        for (int i = 0; year != null && i < year.visits().size(); i++) {
            Share share = year.in(i);
            rows.add(Arrays.asList(i + 1, share.count(), share.of(), share.share(), share.low(), share.high()));
        }
        return CsvText.of(List.of("tenth", "visits", "of", "share", "low", "high"), rows);
    }

    static String reported(List<ModelReport.Table> tables) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (ModelReport.Table table : tables) {
            for (ModelReport.Row row : table.rows()) {
                for (int i = 0; i < table.levels().size(); i++) {
                    rows.add(Arrays.asList(
                            table.factor(),
                            row.reported(),
                            row.visits(),
                            table.levels().get(i),
                            row.shares().get(i)));
                }
            }
        }
        return CsvText.of(List.of("finding", "reported", "ears", "found", "share"), rows);
    }
}
