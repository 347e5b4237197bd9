package org.earslot.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.earslot.duration.FittedModel;
import org.earslot.duration.FollowedDrift;
import org.earslot.duration.Prediction;
import org.earslot.duration.Prediction.Item;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.duration.WeakSpot;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/**
 * What a fit has learnt, in minutes, with the visits behind each line.
 *
 * @param kinds how long visits take by method and ears, with nothing else known
 * @param effects what a finding, a caution or another circumstance adds to a visit with nothing else particular
 * @param paces what each practitioner adds to a usual visit
 * @param tables how what was reported turned out
 * @param referrers the same by referrer
 * @param weak where the visits are too few or too plain to learn much from
 * @param stops how far the minutes would move if stops fell on hard visits
 * @param drift how a change of practice is followed
 */
public record ModelReport(
        List<Kind> kinds,
        List<Effect> effects,
        List<Pace> paces,
        List<Table> tables,
        List<Referrer> referrers,
        List<WeakSpot> weak,
        StopsByDifficulty stops,
        FollowedDrift drift) {

    /** A number that an earlier release did not keep is read as 0. */
    private static final JsonMapper JSON = JsonMapper.builder()
            .disable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
            .build();

    public ModelReport {
        kinds = List.copyOf(kinds);
        effects = List.copyOf(effects);
        paces = List.copyOf(paces);
        tables = List.copyOf(tables);
        // Fits kept by an earlier release have none of these.
        referrers = referrers == null ? List.of() : List.copyOf(referrers);
        weak = weak == null ? List.of() : List.copyOf(weak);
        stops = stops == null ? StopsByDifficulty.NONE : stops;
        drift = drift == null ? FollowedDrift.NONE : drift;
    }

    /**
     * Visits of one method and one or two ears.
     *
     * @param half minutes within which half are done
     * @param most 4 in 5
     */
    public record Kind(String method, int ears, long visits, double half, double most) {}

    /**
     * What one level of one factor adds, with 10 and 90 % points.
     *
     * @param method code, empty for what is paid once
     * @param times the multiplier: of the minutes of an ear, or of what is paid once
     * @param timesLow its 10 % point, the minutes multiplied being taken as known
     * @param timesHigh its 90 % point
     */
    public record Effect(
            String method,
            String factor,
            String level,
            long visits,
            double minutes,
            double low,
            double high,
            double times,
            double timesLow,
            double timesHigh) {

        /** The key of the word for the factor. */
        public String factorWord() {
            return Factors.subjectWord(factor);
        }

        /** The key of the word for the level. */
        public String levelWord() {
            return Factors.levelWord(factor, level);
        }
    }

    /** What a practitioner adds to a usual visit of the method done most. */
    public record Pace(String practitioner, String method, long visits, double minutes, double low, double high) {}

    /**
     * How one factor turned out.
     *
     * @param rows by what was reported, the last where nothing was
     */
    public record Table(String factor, List<String> levels, List<Row> rows) {

        /** The key of the word for the factor. */
        public String factorWord() {
            return Factors.subjectWord(factor);
        }

        /** Ears of which something was reported. */
        public long reports() {
            return reported().mapToLong(Row::visits).sum();
        }

        /** The share of them that were found as reported. */
        public double foundAsReported() {
            double right = reported()
                    .mapToDouble(row -> row.visits() * row.shares().get(levels.indexOf(row.reported())))
                    .sum();
            return right / Math.max(1, reports());
        }

        private Stream<Row> reported() {
            return rows.stream().filter(row -> levels.contains(row.reported()));
        }

        /** The key of the word for a level. */
        public String levelWord(String level) {
            return Factors.levelWord(factor, level);
        }
    }

    /** One referrer's reports, and how they turned out. */
    public record Referrer(String name, List<Table> tables) {

        public Referrer {
            tables = List.copyOf(tables);
        }

        /** Findings reported, over all ears. */
        public long reports() {
            return tables.stream().mapToLong(Table::reports).sum();
        }
    }

    /**
     * Found levels after one report.
     *
     * @param reported empty where nothing was
     * @param shares of the levels, in order
     */
    public record Row(String reported, long visits, List<Double> shares) {}

    /** Asks the model about plain visits, and counts in the table it was fitted on. */
    static ModelReport of(List<VisitRow> rows, FittedModel model) {
        TrainingCounts counts = TrainingCounts.of(rows);
        List<Kind> kinds = new ArrayList<>();
        counts.kinds().forEach((kind, visits) -> kinds.add(kind(kind, visits, model)));
        List<Effect> effects = new ArrayList<>();
        counts.levels().forEach((level, visits) -> effect(level, visits, model, effects));
        List<Pace> paces = new ArrayList<>();
        counts.practitioners().forEach((practitioner, methods) -> paces.add(pace(practitioner, methods, model)));
        return new ModelReport(
                kinds,
                effects,
                paces,
                counts.tables(),
                Referrers.of(rows),
                WeakSpot.of(rows, Priors.earCare()),
                StopsByDifficulty.of(rows, kinds),
                model.drift());
    }

    private static Kind kind(TrainingCounts.KindKey kind, long visits, FittedModel model) {
        Prediction prediction = model.predict(StopsByDifficulty.plain(kind.method(), kind.ears()));
        return new Kind(
                kind.method(),
                kind.ears(),
                visits,
                rounded(prediction.completion().quantile(0.5)),
                rounded(prediction.completion().quantile(0.8)));
    }

    private static void effect(TrainingCounts.LevelKey key, long visits, FittedModel model, List<Effect> effects) {
        boolean once = key.method().isEmpty();
        Term term = Term.level(key.factor(), key.level());
        List<Term> onceTerms = once ? List.of(term) : List.of();
        Part part = once ? Part.planned("right", "microsuction") : Part.planned("right", key.method(), term);
        Prediction prediction = model.predict(VisitTerms.of(onceTerms, List.of(part), null));
        double whole = minutes(prediction, once ? ItemKind.ONCE : ItemKind.PART);
        prediction.why().stream()
                .filter(item -> item.kind() == ItemKind.FACTOR && item.factor().equals(key.factor()))
                .filter(item -> item.minutes() != 0)
                .findFirst()
                .ifPresent(item -> effects.add(effect(key, visits, item, whole)));
    }

    private static Effect effect(TrainingCounts.LevelKey key, long visits, Item item, double whole) {
        return new Effect(
                key.method(),
                key.factor(),
                key.level(),
                visits,
                rounded(item.minutes()),
                rounded(item.low()),
                rounded(item.high()),
                times(item.minutes(), whole),
                times(item.low(), whole),
                times(item.high(), whole));
    }

    private static double times(double minutes, double whole) {
        return whole > 0 ? rounded(Math.max(0, 1 + minutes / whole)) : 1;
    }

    private static Pace pace(String practitioner, Map<String, Long> methods, FittedModel model) {
        String most = methods.entrySet().stream()
                .max(Map.Entry.comparingByValue())
                .orElseThrow()
                .getKey();
        Part part = Part.planned("right", most);
        Prediction prediction = model.predict(VisitTerms.of(List.of(), List.of(part), practitioner));
        Item own = prediction.why().stream()
                .filter(item -> item.kind() == ItemKind.GROUP)
                .findFirst()
                .orElse(new Item(ItemKind.GROUP, "", "", "", 0, 0, 0));
        long visits = methods.values().stream().mapToLong(Long::longValue).sum();
        return new Pace(practitioner, most, visits, rounded(own.minutes()), rounded(own.low()), rounded(own.high()));
    }

    private static double minutes(Prediction prediction, ItemKind kind) {
        return prediction.why().stream()
                .filter(item -> item.kind() == kind)
                .mapToDouble(Item::minutes)
                .sum();
    }

    String text() {
        return JSON.writeValueAsString(this);
    }

    static ModelReport read(String text) {
        return JSON.readValue(text, ModelReport.class);
    }

    static double rounded(double value) {
        return Math.round(value * 1000) / 1000.0;
    }
}
