package org.earslot.review.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.earslot.estimate.ModelReport;
import org.earslot.review.figures.Promised;
import org.earslot.review.figures.PromisedOverTime;
import org.earslot.review.figures.Share;
import org.jspecify.annotations.Nullable;

/** What was promised or reported against what came, as CSV. */
final class PromisedCsv {

    private PromisedCsv() {}

    static String promised(Promised promised) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (Promised.Line line : promised.lines()) {
            for (Promised.Kept kept : line.kept()) {
                rows.add(Arrays.asList(
                        line.method(),
                        line.ears(),
                        line.visits(),
                        line.cutShort(),
                        kept.promised(),
                        kept.share(),
                        kept.low(),
                        kept.high()));
            }
        }
        return CsvText.of(
                List.of("method", "ears", "visits", "stopped_early", "promised", "share", "low", "high"), rows);
    }

    static String spans(List<PromisedOverTime.Span> spans) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (PromisedOverTime.Span span : spans) {
            for (Promised.Kept kept : span.kept()) {
                rows.add(Arrays.asList(
                        span.first(),
                        span.last(),
                        span.method(),
                        span.ears(),
                        span.visits(),
                        span.cutShort(),
                        kept.promised(),
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
                        "promised",
                        "share",
                        "low",
                        "high"),
                rows);
    }

    static String tenths(PromisedOverTime time) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        PromisedOverTime.Tenths year = time.year();
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
