package org.earslot.estimate;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;

/** Which fit estimates rested on since when, with the minutes that its slots follow from. */
@Repository
public class FitsInUse {

    private final JdbcTemplate database;

    FitsInUse(JdbcTemplate database) {
        this.database = database;
    }

    /** @param fourInFive minutes within which four in five are done, by method and number of ears ("microsuction.2") */
    public record Fit(Instant since, String version, Map<String, Double> fourInFive) {}

    /** Estimates rest on this fit from now on. */
    void note(ClinicId clinicId, Instant since, Snapshot snapshot) {
        String kinds = snapshot.learnt().kinds().stream()
                .map(kind -> kind.method() + "." + kind.ears() + "=" + kind.most())
                .collect(Collectors.joining(";"));
        database.update(
                "insert into fit_in_use (clinic_id, since, version, kinds) values (?, ?, ?, ?)",
                clinicId.value(),
                since.atOffset(ZoneOffset.UTC),
                snapshot.version(),
                kinds);
    }

    /** All fits put in use before {@code end}, the earliest first. */
    public List<Fit> before(ClinicId clinicId, Instant end) {
        return database.query(
                "select since, version, kinds from fit_in_use where clinic_id = ? and since < ? order by since, id",
                (row, number) -> new Fit(
                        row.getObject(1, OffsetDateTime.class).toInstant(), row.getString(2), kinds(row.getString(3))),
                clinicId.value(),
                end.atOffset(ZoneOffset.UTC));
    }

    private static Map<String, Double> kinds(String text) {
        Map<String, Double> kinds = new TreeMap<>();
        for (String kind : text.split(";")) {
            int sign = kind.indexOf('=');
            if (sign > 0) {
                kinds.put(kind.substring(0, sign), Double.valueOf(kind.substring(sign + 1)));
            }
        }
        return kinds;
    }
}
