package org.earslot.estimate;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.estimate.PastVisit.PastEar;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Transactional;

/**
 * The stored visits a fit may learn from, read row by row without entities: attended, timed as they happened, in the
 * order of call-in.
 */
@Repository
public class StoredVisits {

    private static final int ROWS_AT_ONCE = 2_000;

    private static final String ATTENDED_AND_TIMED = """
            from visit v join practitioner p on p.id = v.practitioner_id
            where v.clinic_id = ? and v.attendance in ('attended', 'attended_late')
              and v.called_in is not null and v.finished is not null and not v.times_entered_later
            """;

    private final JdbcTemplate jdbc;

    StoredVisits(JdbcTemplate jdbc) {
        this.jdbc = new JdbcTemplate(jdbc.getDataSource());
        this.jdbc.setFetchSize(ROWS_AT_ONCE);
    }

    /** How many there are. */
    long count(UUID clinicId) {
        Long count = jdbc.queryForObject("select count(*) " + ATTENDED_AND_TIMED, Long.class, clinicId);
        return count == null ? 0 : count;
    }

    /** Whether anybody in this clinic writes down how much of the canal is blocked. */
    boolean occlusionRecorded(UUID clinicId) {
        Long count = jdbc.queryForObject(
                "select count(coalesce(v.right_occlusion_found, v.left_occlusion_found)) " + ATTENDED_AND_TIMED,
                Long.class,
                clinicId);
        return count != null && count > 0;
    }

    /** Hands over each of them. Within a transaction, so that the database sends them in portions. */
    @Transactional(readOnly = true)
    public void each(UUID clinicId, Consumer<PastVisit> visits) {
        Words words = new Words();
        jdbc.query(
                "select v.*, p.dominant_hand " + ATTENDED_AND_TIMED
                        + " order by v.visit_date, v.called_in, v.visit_ref",
                row -> {
                    visits.accept(read(row, words));
                },
                clinicId);
    }

    /** The latest of them, the last first. */
    @Transactional(readOnly = true)
    public List<PastVisit> latest(UUID clinicId, int count) {
        Words words = new Words();
        return jdbc.query(
                "select v.*, p.dominant_hand " + ATTENDED_AND_TIMED
                        + " order by v.visit_date desc, v.called_in desc, v.visit_ref fetch first "
                        + count + " rows only",
                (row, number) -> read(row, words),
                clinicId);
    }

    private static PastVisit read(ResultSet row, Words words) throws SQLException {
        OffsetDateTime calledIn = row.getObject("called_in", OffsetDateTime.class);
        OffsetDateTime finished = row.getObject("finished", OffsetDateTime.class);
        OffsetDateTime booked = row.getObject("booked_start", OffsetDateTime.class);
        return new PastVisit(
                row.getObject("visit_date", java.time.LocalDate.class),
                words.same(row.getString("practitioner_id")),
                word(row.getString("dominant_hand"), Ear::of),
                row.getString("patient_ref"),
                words.sameOrNull(row.getString("referrer")),
                Method.of(row.getString("method_planned")).orElseThrow(),
                Ears.of(row.getString("ears")).orElseThrow(),
                Answer.of(row.getString("first_visit")).orElse(Answer.NOT_KNOWN),
                Answer.of(row.getString("hearing_aid")).orElse(Answer.NOT_KNOWN),
                words.cautions(row.getString("cautions")),
                row.getObject("softener_days", Integer.class),
                ear("right", row, words),
                ear("left", row, words),
                word(row.getString("stopped_early"), StoppedEarly::of),
                minutes(calledIn, finished) - row.getInt("outside_minutes"),
                booked == null ? 0 : Math.max(0, minutes(booked, calledIn)));
    }

    private static double minutes(OffsetDateTime from, OffsetDateTime to) {
        return java.time.Duration.between(from, to).toSeconds() / 60.0;
    }

    private static PastEar ear(String side, ResultSet row, Words words) throws SQLException {
        return new PastEar(
                findings(side, "_reported", row),
                findings(side, "_found", row),
                words.methods(row.getString(side + "_methods")));
    }

    private static EarFindings findings(String side, String when, ResultSet row) throws SQLException {
        return new EarFindings(
                word(row.getString(side + "_wax" + when), Wax::of),
                word(row.getString(side + "_canal" + when), Canal::of),
                word(row.getString(side + "_depth" + when), Depth::of),
                word(row.getString(side + "_occlusion" + when), Occlusion::of));
    }

    private static <W> @Nullable W word(@Nullable String code, Function<String, Optional<W>> words) {
        return code == null ? null : words.apply(code).orElse(null);
    }

    /** Keeps one object for equal texts and lists, so that a million visits need little memory. */
    private static final class Words {

        private final Map<String, String> texts = new HashMap<>();
        private final Map<String, Set<Caution>> cautions = new HashMap<>();
        private final Map<String, List<Method>> methods = new HashMap<>();

        String same(String text) {
            return texts.computeIfAbsent(text, Function.identity());
        }

        @Nullable
        String sameOrNull(@Nullable String text) {
            return text == null || text.isBlank() ? null : same(text);
        }

        Set<Caution> cautions(String codes) {
            return cautions.computeIfAbsent(codes, all -> {
                Set<Caution> known = EnumSet.noneOf(Caution.class);
                each(all).forEach(code -> Caution.of(code).ifPresent(known::add));
                return known.isEmpty() ? Set.of() : Set.copyOf(known);
            });
        }

        List<Method> methods(@Nullable String codes) {
            return methods.computeIfAbsent(
                    codes == null ? "" : codes,
                    all -> each(all).flatMap(code -> Method.of(code).stream()).toList());
        }

        private static java.util.stream.Stream<String> each(String codes) {
            return Arrays.stream(codes.split(";")).filter(code -> !code.isEmpty());
        }
    }
}
