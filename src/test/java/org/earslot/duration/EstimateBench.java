package org.earslot.duration;

import java.util.List;
import java.util.concurrent.TimeUnit;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitTerms;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;

/**
 * How long one estimate of both ears takes with every finding unknown, after a fit on 10,000 visits. Aims: 0.5 ms; with
 * what to ask 5 ms.
 *
 * <p>{@code mvn -Pbench test-compile exec:exec -Dbench=org.earslot.duration.EstimateBench}; {@code -Dbench.args=quick} for
 * one short measurement.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(value = 1, jvmArgs = "-Xmx1g")
@Warmup(iterations = 4, time = 2)
@Measurement(iterations = 6, time = 2)
public class EstimateBench {

    private final FittedModel model = OncePlusParts.with(Priors.earCare()).fit(BenchTable.full(10_000, 7));
    private final VisitTerms visit = BenchTable.bothEarsUnknown();

    /** The distribution, its median, the 4 in 5 point, and the slot's point of time in room. */
    @Benchmark
    public double minutes() {
        return minutes(model.predict(visit));
    }

    @Benchmark
    public double withWhyThisLong() {
        Prediction prediction = model.predict(visit);
        return minutes(prediction) + prediction.why().size();
    }

    @Benchmark
    public double withWhatToAsk() {
        Prediction prediction = model.predict(visit);
        return minutes(prediction) + prediction.why().size() + prediction.ask().size();
    }

    private static double minutes(Prediction prediction) {
        return prediction.completion().quantile(0.5)
                + prediction.completion().quantile(0.8)
                + prediction.inRoom().quantile(0.75);
    }

    public static void main(String[] arguments) throws RunnerException {
        ChainedOptionsBuilder options = new OptionsBuilder().include(EstimateBench.class.getName() + "\\.");
        if (List.of(arguments).contains("quick")) {
            options.warmupIterations(1).measurementIterations(1);
        }
        new Runner(options.build()).run();
    }
}
