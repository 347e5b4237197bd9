package org.earslot.caution;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.Period;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.earslot.caution.Suitability.Reason;
import org.earslot.caution.Suitability.Remark;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;

/** The table of cautions by method: data with the source and mark of each cell. */
public final class CautionTable {

    /** Names the defaults that come with the program; to be changed with every change of them. */
    private static final String DEFAULTS = "2026-12b";

    private static final CSVFormat FORMAT = CSVFormat.RFC4180
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .setCommentMarker('#')
            .get();

    private final String version;
    private final List<CautionRule> rules;

    CautionTable(String version, List<CautionRule> rules) {
        this.version = version;
        this.rules = List.copyOf(rules);
    }

    /** The defaults that come with the program; local protocol goes before them. */
    public static CautionTable defaults() {
        try (Reader reader = new InputStreamReader(
                        CautionTable.class.getResourceAsStream("/caution/cautions.csv"), StandardCharsets.UTF_8);
                var records = FORMAT.parse(reader)) {
            return new CautionTable(
                    DEFAULTS, records.stream().map(CautionTable::rule).toList());
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
                cell.get("all_clear").equals("yes"),
                cell.get("source"),
                Mark.of(cell.get("mark")).orElseThrow());
    }

    /** Which table it is: of the program, or with how many changes of the clinic. */
    public String version() {
        return version;
    }

    /** Every rule, in the order of the table. */
    public List<CautionRule> rules() {
        return rules;
    }

    /** The rules of one cell; none where nothing is published. */
    public List<CautionRule> rules(Caution caution, Method method) {
        return rules.stream()
                .filter(rule -> rule.caution() == caution && rule.method() == method)
                .toList();
    }

    /** How many cells no practitioner of this clinic has signed off, those without a rule among them. */
    public long unsigned() {
        return Caution.values().length * (long) Method.values().length
                - rules.stream()
                        .filter(CautionRule::signedOff)
                        .map(rule -> Map.entry(rule.caution(), rule.method()))
                        .distinct()
                        .count();
    }

    /** How many signed cells are to be read again on {@code today}. */
    public long reviewDue(LocalDate today) {
        return rules.stream()
                .filter(rule -> rule.signOff().filter(by -> by.due(today)).isPresent())
                .map(rule -> Map.entry(rule.caution(), rule.method()))
                .distinct()
                .count();
    }

    /**
     * Every method with its verdict on {@code date}, in the order of the trade's list.
     *
     * @param ears those to be treated
     * @param hearingTestFollows whether a hearing test is to follow the visit
     */
    public List<Suitability> judge(CautionAnswers answers, Ears ears, boolean hearingTestFollows, LocalDate date) {
        return Arrays.stream(Method.values())
                .map(method -> judge(answers, ears, hearingTestFollows, method, date))
                .toList();
    }

    /**
     * One method with its verdict on {@code date}. A caution of an ear that is not treated does not count; one that nobody
     * could answer is a precaution wherever yes would be one or worse.
     */
    public Suitability judge(
            CautionAnswers answers, Ears ears, boolean hearingTestFollows, Method method, LocalDate date) {
        Stream<Reason> answered = answers.yes().stream()
                .filter(asked -> asked.ear() == null || ears.include(asked.ear()))
                .flatMap(asked -> rules(asked.caution(), method).stream()
                        .filter(rule -> rule.countsOn(date, asked))
                        .map(rule -> new Reason(rule, Optional.ofNullable(asked.ear()), false)));
        Stream<Reason> notKnown = answers.notKnown().stream()
                .sorted()
                .flatMap(caution -> rules(caution, method).stream()
                        .reduce((one, other) -> one.verdict().compareTo(other.verdict()) >= 0 ? one : other)
                        .map(rule -> new Reason(rule, Optional.empty(), true))
                        .stream());
        List<Remark> remarks = new ArrayList<>();
        if (!answers.unknown().isEmpty()) {
            remarks.add(Remark.UNKNOWN_CAUTION);
        }
        if (method == Method.MICROSUCTION && hearingTestFollows) {
            remarks.add(Remark.HEARING_TEST_AFTER_SUCTION);
        }
        return new Suitability(
                method,
                Stream.concat(answered, notKnown)
                        .filter(reason -> reason.verdict() != Verdict.SUITABLE)
                        .toList(),
                remarks,
                answers.asked());
    }
}
