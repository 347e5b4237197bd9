package org.earslot.duration;

import java.io.IOException;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;

/**
 * How long a fit takes, by number of visits (30 practitioners, 5 % stopped early) in 1 GB of heap, and R's {@code survreg} on
 * the same 100,000 visits in the same run: on a plain table, and on a full one with persons and findings not known, which
 * {@code survreg} takes for a level. Aims: 100,000 in 0.25 s on two cores, a tenth of R's time; 1,000,000 in 3 s.
 *
 * <p>{@code mvn -Pbench test-compile exec:exec -Dbench=org.earslot.duration.FitBench}; with {@code -Dbench.args=quick} one
 * measurement without the million.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(value = 1, jvmArgs = "-Xmx1g")
@Warmup(iterations = 15)
@Measurement(iterations = 7)
public class FitBench {

    private static final long SEED = 7;
    private static final int BESIDE_R = 100_000;

    @Param({"plain", "full"})
    public String table = "plain";

    @Param({"10000", "100000", "1000000"})
    public int visits;

    private List<VisitRow> rows = List.of();

    @Setup
    public void table() {
        rows = rows(table, visits);
    }

    @Benchmark
    public long fit() {
        return OncePlusParts.with(Priors.earCare()).fit(rows).visits();
    }

    private static List<VisitRow> rows(String table, int visits) {
        return table.equals("plain") ? BenchTable.plain(visits, SEED) : BenchTable.full(visits, SEED);
    }

    public static void main(String[] arguments) throws RunnerException, IOException, InterruptedException {
        boolean quick = List.of(arguments).contains("quick");
        ChainedOptionsBuilder options = new OptionsBuilder().include(FitBench.class.getName() + "\\.");
        if (quick) {
            options.warmupIterations(1).measurementIterations(1).param("visits", "10000", "100000");
        }
        Collection<RunResult> results = new Runner(options.build()).run();
        for (String table : List.of("plain", "full")) {
            print(table, seconds(results, table));
        }
    }

    private static void print(String table, Map<Integer, Double> seconds) throws IOException, InterruptedException {
        System.out.printf("%n%s table%n%10s %10s %22s%n", table, "visits", "seconds", "seconds per 100,000");
        seconds.forEach((visits, took) ->
                System.out.printf(Locale.ROOT, "%10d %10.3f %22.3f%n", visits, took, took * 1e5 / visits));
        Double r = BenchInR.seconds(rows(table, BESIDE_R));
        if (r != null) {
            System.out.printf(
                    Locale.ROOT,
                    "R survreg on the same %,d visits: %.3f s, %.1f times as long%n",
                    BESIDE_R,
                    r,
                    r / seconds.get(BESIDE_R));
        }
    }

    private static Map<Integer, Double> seconds(Collection<RunResult> results, String table) {
        Map<Integer, Double> seconds = new TreeMap<>();
        for (RunResult result : results) {
            if (result.getParams().getParam("table").equals(table)) {
                seconds.put(
                        Integer.valueOf(result.getParams().getParam("visits")),
                        result.getPrimaryResult().getScore());
            }
        }
        return seconds;
    }
}
