package org.earslot.duration.predict;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.InflaterInputStream;
import org.earslot.duration.FittedModel;
import org.earslot.duration.findings.CarryForward;
import org.earslot.duration.findings.Circumstances;
import org.earslot.duration.findings.FindingTable;
import org.earslot.duration.findings.Reliability;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.findings.Resemblance;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Vocabulary;
import org.earslot.minutes.ProbabilityMap;
import org.jspecify.annotations.Nullable;

/**
 * A fitted {@link org.earslot.duration.fit.OncePlusParts} as bytes: what it found, not the visits it found it on. A model
 * read back forecasts as the one written, to the last bit.
 *
 * <p>The first byte is {@link #FORM}; the rest is compressed (zlib). Whole numbers have 4 bytes (a day and a count of
 * visits 8), the first byte highest; a number with a fraction the 8 bytes of its IEEE 754 form; a truth value 1 byte; a
 * text its length in bytes and these in UTF-8 (as {@link DataOutputStream#writeUTF}). A list is its length and its
 * elements; length -1 stands for no list. In this order:
 *
 * <ol>
 *   <li>visits, visits stopped early, how far all times walk in a year, the gain of following that;
 *   <li>names: each factor with its levels; kinds, groups, persons, sources, parts; their order is their number;
 *   <li>columns: how many; of minutes by place; of levels by place and factor; of numbers by place and factor, their
 *       centres and scales; of lateness, of hurry; the day of a change and its columns; the assumed log minutes paid once;
 *   <li>whether each factor is used;
 *   <li>for each factor: shares of its levels; reports by level found and reported, then by source; how much commoner by
 *       circumstance; worth, discount and adding of earlier findings; pairs of levels in two parts;
 *   <li>coefficients, their covariance; by group its block, its covariance with the coefficients, its own; standard
 *       deviations on the log scale (group, group in a kind, group on a side, person, noise by class, common noise), of
 *       the outlying component share, shift and spread, doubt on the noise by class and on the group; whether persons
 *       were told apart; what each column adds to the noise;
 *   <li>by class of noise the map of its probabilities: said, seen;
 *   <li>by kind its stops for comfort or safety and the minutes they came in;
 *   <li>by person the log factor, then its precision, then the number of the first remembered cell; the cells, what was
 *       found in each;
 *   <li>the variance of what one day's visits of a group share.
 * </ol>
 */
public final class ModelCodec {

    /** The form that this release writes, and the only one it reads. */
    public static final int FORM = 3;

    private ModelCodec() {}

    /**
     * The bytes of a model.
     *
     * @param model as {@link org.earslot.duration.fit.OncePlusParts#fit} or {@link #read} gave it
     * @throws IllegalArgumentException if it was made by another estimator
     */
    public static byte[] write(FittedModel model) {
        if (!(model instanceof OncePlusPartsModel whole)) {
            throw new IllegalArgumentException("a model of another estimator cannot be written");
        }
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        bytes.write(FORM);
        try (DataOutputStream out = new DataOutputStream(new BufferedOutputStream(new DeflaterOutputStream(bytes)))) {
            new Writer(out).model(whole);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    /** Whether these bytes are of the form that this release reads. */
    public static boolean canRead(byte[] bytes) {
        return bytes.length > 0 && bytes[0] == FORM;
    }

    /**
     * The model that was written.
     *
     * @param priors those it was fitted on: they say what is assumed of what no visit had
     * @throws UncheckedIOException if the bytes are damaged or of another form
     */
    public static FittedModel read(byte[] bytes, Priors priors) {
        if (!canRead(bytes)) {
            throw new UncheckedIOException(new IOException("not a model of form " + FORM));
        }
        try (DataInputStream in = new DataInputStream(new BufferedInputStream(
                new InflaterInputStream(new ByteArrayInputStream(bytes, 1, bytes.length - 1))))) {
            return new Reader(in, priors).model();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private record Writer(DataOutputStream out) {

        void model(OncePlusPartsModel model) throws IOException {
            out.writeLong(model.visits());
            out.writeLong(model.stoppedEarly());
            out.writeDouble(model.past().walk());
            out.writeDouble(model.past().gain());
            names(model.layout().vocabulary);
            layout(model.layout());
            out.writeInt(model.recorded().length);
            for (boolean recorded : model.recorded()) {
                out.writeBoolean(recorded);
            }
            for (int factor = 0; factor < model.tables().size(); factor++) {
                table(model.tables().of(factor));
            }
            posterior(model.posterior());
            out.writeInt(model.maps().length);
            for (ProbabilityMap map : model.maps()) {
                doubles(map.said());
                doubles(map.seen());
            }
            Map<String, double[]> stops = model.stops().counts();
            out.writeInt(stops.size());
            for (Map.Entry<String, double[]> kind : stops.entrySet()) {
                out.writeUTF(kind.getKey());
                doubles(kind.getValue());
            }
            persons(model.persons());
            out.writeDouble(model.dayVariance());
        }

        private void names(Vocabulary names) throws IOException {
            out.writeInt(names.factors.size());
            for (int factor = 0; factor < names.factors.size(); factor++) {
                out.writeUTF(names.factors.name(factor));
                names(names.levels.get(factor));
            }
            for (Names each : List.of(names.kinds, names.groups, names.persons, names.sources, names.parts)) {
                names(each);
            }
        }

        private void names(Names names) throws IOException {
            out.writeInt(names.size());
            for (int number = 0; number < names.size(); number++) {
                out.writeUTF(names.name(number));
            }
        }

        private void layout(Layout layout) throws IOException {
            out.writeInt(layout.width);
            ints(layout.base);
            for (int[][] place : layout.columns) {
                for (int[] factor : place) {
                    ints(factor);
                }
            }
            for (int[] place : layout.numberColumns) {
                ints(place);
            }
            doubles(layout.numberCentre);
            doubles(layout.numberScale);
            out.writeInt(layout.lateColumn);
            ints(layout.hurry);
            out.writeLong(layout.changeDay);
            ints(layout.since);
            out.writeDouble(layout.onceMean);
        }

        private void table(FindingTable table) throws IOException {
            doubles(table.general);
            rows(table.reliability.common());
            out.writeInt(table.reliability.bySource().length);
            for (double[][] source : table.reliability.bySource()) {
                rows(source);
            }
            rows(table.times);
            out.writeDouble(table.carryForward.worth());
            out.writeDouble(table.carryForward.discount());
            out.writeBoolean(table.carryForward.adds());
            doubles(table.resemblance.ratio);
        }

        private void posterior(Posterior posterior) throws IOException {
            doubles(posterior.beta());
            doubles(posterior.covariance());
            rows(posterior.block());
            rows(posterior.cross());
            rows(posterior.own());
            VarianceComponents sizes = posterior.sizes();
            doubles(new double[] {sizes.group, sizes.groupKind, sizes.groupSide, sizes.person});
            doubles(sizes.noise);
            doubles(new double[] {
                sizes.noiseCentre, sizes.outlierShare, sizes.outlierShift, sizes.outlierSpread, sizes.groupDoubt
            });
            doubles(sizes.noiseDoubt);
            out.writeBoolean(posterior.personsTold());
            doubles(posterior.widths());
        }

        private void persons(OncePlusPartsModel.Persons persons) throws IOException {
            doubles(persons.mean());
            doubles(persons.precision());
            ints(persons.memory().first());
            ints(persons.memory().cell());
            for (long found : persons.memory().found()) {
                out.writeLong(found);
            }
        }

        private void ints(int @Nullable [] list) throws IOException {
            out.writeInt(list == null ? -1 : list.length);
            for (int i = 0; list != null && i < list.length; i++) {
                out.writeInt(list[i]);
            }
        }

        private void doubles(double @Nullable [] list) throws IOException {
            out.writeInt(list == null ? -1 : list.length);
            for (int i = 0; list != null && i < list.length; i++) {
                out.writeLong(Double.doubleToRawLongBits(list[i]));
            }
        }

        private void rows(double[] @Nullable [] list) throws IOException {
            out.writeInt(list.length);
            for (double[] row : list) {
                doubles(row);
            }
        }
    }

    private record Reader(DataInputStream in, Priors priors) {

        FittedModel model() throws IOException {
            OncePlusPartsModel.Past past =
                    new OncePlusPartsModel.Past(in.readLong(), in.readLong(), in.readDouble(), in.readDouble());
            Vocabulary names = vocabulary();
            int factors = names.factors.size();
            Layout layout = layout(names);
            boolean[] recorded = new boolean[in.readInt()];
            for (int factor = 0; factor < recorded.length; factor++) {
                recorded[factor] = in.readBoolean();
            }
            FindingTable[] tables = new FindingTable[factors];
            for (int factor = 0; factor < factors; factor++) {
                tables[factor] = table();
            }
            Posterior posterior = posterior();
            ProbabilityMap[] maps = new ProbabilityMap[in.readInt()];
            for (int noise = 0; noise < maps.length; noise++) {
                maps[noise] = new ProbabilityMap(doubles(), doubles());
            }
            ComfortStops stops = new ComfortStops(priors);
            for (int left = in.readInt(); left > 0; left--) {
                String kind = in.readUTF();
                double[] counts = doubles();
                stops.count(kind, counts[1], counts[0]);
            }
            OncePlusPartsModel.Persons persons = persons(factors);
            return new OncePlusPartsModel(
                    layout,
                    recorded,
                    new ReportTables(new Circumstances(names), tables),
                    posterior,
                    maps,
                    stops,
                    persons,
                    in.readDouble(),
                    past);
        }

        private Vocabulary vocabulary() throws IOException {
            Vocabulary names = new Vocabulary();
            for (int left = in.readInt(); left > 0; left--) {
                names(names.levels.get(names.factor(in.readUTF())));
            }
            for (Names each : List.of(names.kinds, names.groups, names.persons, names.sources, names.parts)) {
                names(each);
            }
            return names;
        }

        private void names(Names into) throws IOException {
            for (int left = in.readInt(); left > 0; left--) {
                into.number(in.readUTF());
            }
        }

        private Layout layout(Vocabulary names) throws IOException {
            int width = in.readInt();
            int[] base = ints();
            int factors = names.factors.size();
            int[][][] columns = new int[base.length][factors][];
            for (int[][] place : columns) {
                for (int factor = 0; factor < factors; factor++) {
                    place[factor] = intsIfAny();
                }
            }
            int[][] numberColumns = new int[base.length][];
            for (int place = 0; place < base.length; place++) {
                numberColumns[place] = ints();
            }
            return new Layout(
                    names,
                    priors,
                    width,
                    base,
                    columns,
                    new Layout.Numbers(numberColumns, doubles(), doubles()),
                    new Layout.Lateness(in.readInt(), ints()),
                    new Layout.Change(in.readLong(), ints()),
                    in.readDouble());
        }

        private FindingTable table() throws IOException {
            double[] general = doubles();
            double[][] common = rows();
            double[][][] bySource = new double[in.readInt()][][];
            for (int source = 0; source < bySource.length; source++) {
                bySource[source] = rows();
            }
            return new FindingTable(
                    general,
                    new Reliability(common, bySource),
                    rows(),
                    new CarryForward(in.readDouble(), in.readDouble(), in.readBoolean()),
                    new Resemblance(general.length, doubles()));
        }

        private Posterior posterior() throws IOException {
            double[] beta = doubles();
            double[] covariance = doubles();
            double[][] block = rows();
            double[][] cross = rows();
            double[][] own = rows();
            double[] groups = doubles();
            double[] noise = doubles();
            VarianceComponents sizes = new VarianceComponents(noise.length);
            sizes.group = groups[0];
            sizes.groupKind = groups[1];
            sizes.groupSide = groups[2];
            sizes.person = groups[3];
            sizes.noise = noise;
            double[] rest = doubles();
            sizes.noiseCentre = rest[0];
            sizes.outlierShare = rest[1];
            sizes.outlierShift = rest[2];
            sizes.outlierSpread = rest[3];
            sizes.groupDoubt = rest[4];
            sizes.noiseDoubt = doubles();
            return new Posterior(beta, covariance, block, cross, own, sizes, in.readBoolean(), doubles());
        }

        private OncePlusPartsModel.Persons persons(int factors) throws IOException {
            double[] mean = doubles();
            double[] precision = doubles();
            int[] first = ints();
            int[] cell = ints();
            long[] found = new long[cell.length];
            for (int at = 0; at < found.length; at++) {
                found[at] = in.readLong();
            }
            return new OncePlusPartsModel.Persons(mean, precision, new PersonMemory(factors, first, cell, found));
        }

        private int[] ints() throws IOException {
            return Objects.requireNonNull(intsIfAny());
        }

        private int @Nullable [] intsIfAny() throws IOException {
            int length = in.readInt();
            int[] list = length < 0 ? null : new int[length];
            for (int i = 0; i < length; i++) {
                list[i] = in.readInt();
            }
            return list;
        }

        private double[] doubles() throws IOException {
            return Objects.requireNonNull(doublesIfAny());
        }

        private double @Nullable [] doublesIfAny() throws IOException {
            int length = in.readInt();
            double[] list = length < 0 ? null : new double[length];
            for (int i = 0; i < length; i++) {
                list[i] = Double.longBitsToDouble(in.readLong());
            }
            return list;
        }

        private double[][] rows() throws IOException {
            double[][] rows = new double[in.readInt()][];
            for (int row = 0; row < rows.length; row++) {
                rows[row] = doublesIfAny();
            }
            return rows;
        }
    }
}
