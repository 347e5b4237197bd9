package org.earslot.exchange;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.earslot.duration.FittedModel;
import org.earslot.duration.WeakSpot;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.estimate.EstimatorTerms;
import org.earslot.estimate.FitChoices;
import org.earslot.estimate.FitScores;
import org.earslot.estimate.FitScores.Card;
import org.earslot.estimate.FitScores.GroupCard;
import org.earslot.estimate.FitScores.Way;
import org.earslot.estimate.PastVisit;
import org.earslot.estimate.PastVisitReader;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.visit.VisitRecord;

/**
 * Prints how good the estimates are for a visit log in a file, without a database and without a server: {@code java -jar
 * earslot.jar evaluate --visits FILE}.
 */
public final class EvaluateCommand {

    /** The word after which the rest of the line is this command's. */
    public static final String NAME = "evaluate";

    private static final String USAGE = """
            usage: evaluate --visits FILE [--overruns SHARE]
              FILE      a visit log, CSV as the export writes it
              SHARE     accepted share of overruns, between 0 and 1, both excluded; 0.25 where not given
            """;

    private static final double USUAL_OVERRUNS = 0.25;

    private final PrintStream out;
    private final PrintStream problems;

    /**
     * @param out where scores go
     * @param problems where refusals go
     */
    public EvaluateCommand(PrintStream out, PrintStream problems) {
        this.out = out;
        this.problems = problems;
    }

    private record Asked(Path visits, double overruns) {}

    private record Table(List<VisitRow> rows, boolean occlusion, VisitLog.Counts counts) {}

    /**
     * @param arguments what follows the command's name
     * @return 0 done, 1 the file cannot be used, 2 wrongly asked
     */
    public int run(List<String> arguments) {
        Optional<Asked> asked = asked(arguments);
        if (asked.isEmpty()) {
            problems.print(USAGE);
            return 2;
        }
        try {
            Table table = read(asked.get().visits());
            print(table, 1 - asked.get().overruns());
            return 0;
        } catch (UnreadableFile e) {
            e.faults().forEach(fault -> problems.println(fault.reason() + "; " + fault.remedy()));
        } catch (IOException e) {
            String why = e instanceof NoSuchFileException ? "there is no such file" : e.getMessage();
            problems.println("The file cannot be read: " + asked.get().visits() + " (" + why + ")");
        }
        return 1;
    }

    private Optional<Asked> asked(List<String> arguments) {
        Path visits = null;
        double overruns = USUAL_OVERRUNS;
        for (int i = 0; i < arguments.size(); i += 2) {
            if (i + 1 == arguments.size()) {
                return Optional.empty();
            }
            String value = arguments.get(i + 1);
            switch (arguments.get(i)) {
                case "--visits" -> visits = Path.of(value);
                case "--overruns" -> {
                    overruns = share(value);
                    if (!(overruns > 0 && overruns < 1)) {
                        problems.println("--overruns is " + value + "; give a share between 0 and 1, both excluded");
                    }
                }
                default -> {
                    return Optional.empty();
                }
            }
        }
        return visits != null && overruns > 0 && overruns < 1
                ? Optional.of(new Asked(visits, overruns))
                : Optional.empty();
    }

    private static double share(String text) {
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException e) {
            return Double.NaN;
        }
    }

    private Table read(Path file) throws IOException, UnreadableFile {
        List<PastVisit> visits = new ArrayList<>();
        PastVisitReader reader = new PastVisitReader();
        try (InputStream in = new BufferedInputStream(Files.newInputStream(file))) {
            VisitLog.Counts counts = VisitLog.read(
                    in,
                    ZoneOffset.UTC,
                    line -> {
                        VisitRecord visit = line.asRecord(ZoneOffset.UTC);
                        if (visit.mayBeLearntFrom()) {
                            visits.add(reader.read(visit, line.practitioner(), null));
                        }
                    },
                    rejected -> rejected.faults().stream()
                            .findFirst()
                            .ifPresent(fault -> problems.printf(
                                    Locale.ROOT,
                                    "line %d left out: %s: %s%n",
                                    rejected.line(),
                                    fault.column(),
                                    fault.reason())));
            boolean occlusion = visits.stream().anyMatch(EvaluateCommand::saysHowMuchIsBlocked);
            EstimatorTerms terms = new EstimatorTerms(occlusion);
            List<VisitRow> rows =
                    visits.stream().flatMap(visit -> terms.row(visit).stream()).toList();
            return new Table(rows, occlusion, counts);
        }
    }

    private static boolean saysHowMuchIsBlocked(PastVisit visit) {
        return visit.right().found().occlusion() != null || visit.left().found().occlusion() != null;
    }

    private void print(Table table, double slotProbability) {
        FitChoices choices = FitChoices.now(table.occlusion(), slotProbability);
        long started = System.nanoTime();
        FittedModel model = choices.asEstimator().fit(table.rows());
        double seconds = (System.nanoTime() - started) / 1e9;
        VisitLog.Counts counts = table.counts();
        line(
                "%d lines: %d used or kept, %d repeats, %d left out",
                counts.lines(), counts.accepted(), counts.repeats(), counts.rejected());
        line(
                "fit: %d attended, timed visits, %d of them stopped early, %.2f s",
                model.visits(), model.stoppedEarly(), seconds);
        WeakSpot.of(table.rows(), Priors.earCare())
                .forEach(spot -> line(
                        "weak: %s%s, %d visits",
                        spot.sort().name().toLowerCase(Locale.ROOT).replace('_', ' '),
                        spot.name().isEmpty() ? "" : " " + spot.name(),
                        spot.visits()));
        FitScores scores = FitScores.of(table.rows(), choices.asEstimator(), slotProbability);
        if (scores.ways().isEmpty()) {
            line("Too few visits to judge by: at least 30 are needed.");
            return;
        }
        Card own = scores.ways().get(0).overall();
        line(
                "judged: the latest %d visits (%d stopped early), each forecast from earlier days only",
                own.visits(), own.stoppedEarly());
        line("");
        line("%-22s %8s %12s   done within the 50/80/90/95 %% time", "", "CRPS min", "pinball min");
        scores.ways().forEach(this::printWay);
        line("");
        line("the estimator within method and ears");
        scores.ways().get(0).byGroup().forEach(this::printGroup);
    }

    private void printWay(Way way) {
        line(
                "%-22s %8.3f %12.3f   %s",
                way.name(), way.overall().crps(), way.overall().pinball(), coverage(way.overall()));
    }

    private void printGroup(GroupCard group) {
        String name = (group.method().isEmpty() ? "any method" : group.method())
                + (group.ears() == 0 ? "" : group.ears() == 1 ? ", one ear" : ", both ears");
        line(
                "%-32s %6d visits   %8.3f %12.3f   %s",
                name, group.card().visits(), group.card().crps(), group.card().pinball(), coverage(group.card()));
    }

    private static String coverage(Card card) {
        StringBuilder text = new StringBuilder();
        card.coverage().values().forEach(share -> text.append(String.format(Locale.ROOT, "%6.1f %%", share * 100)));
        return text.toString();
    }

    private void line(String format, Object... values) {
        out.println(String.format(Locale.ROOT, format, values));
    }
}
