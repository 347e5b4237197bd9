package org.earslot.referral;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Period;
import java.util.List;
import java.util.Optional;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;

/** The table of cautions by method: data with the source and mark of each cell. */
public final class CautionTable {

    private static final CSVFormat FORMAT = CSVFormat.RFC4180
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .setCommentMarker('#')
            .get();

    private final List<CautionRule> rules;

    private CautionTable(List<CautionRule> rules) {
        this.rules = rules;
    }

    /** The defaults that come with the program; local protocol goes before them. */
    public static CautionTable defaults() {
        try (Reader reader = new InputStreamReader(
                        CautionTable.class.getResourceAsStream("/referral/cautions.csv"), StandardCharsets.UTF_8);
                var records = FORMAT.parse(reader)) {
            return new CautionTable(records.stream().map(CautionTable::rule).toList());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static CautionRule rule(CSVRecord cell) {
        return new CautionRule(
                Caution.of(cell.get("caution")).orElseThrow(),
                Method.of(cell.get("method")).orElseThrow(),
                cell.get("verdict").equals("C") ? Verdict.CONTRAINDICATED : Verdict.PRECAUTION,
                Optional.of(cell.get("within")).filter(text -> !text.isEmpty()).map(Period::parse),
                cell.get("source"),
                cell.get("mark").equals("published"));
    }

    /** Every cell, in the order of the table. */
    public List<CautionRule> rules() {
        return rules;
    }

    List<CautionRule> rules(Caution caution, Method method) {
        return rules.stream()
                .filter(rule -> rule.caution() == caution && rule.method() == method)
                .toList();
    }
}
