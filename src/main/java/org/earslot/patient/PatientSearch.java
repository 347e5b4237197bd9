package org.earslot.patient;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.earslot.patient.Sought.Part;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * Finds a patient by whatever the caller says: any part of any name in any order, a date of birth, digits of a telephone
 * number, the local number. Those whose words begin as typed come first, then those that contain it; if there is nobody,
 * those whose names are one letter away. A second record of a merged patient leads to the patient.
 */
@Component
public class PatientSearch {

    /** The most that are found; whoever wants to see more narrows the search. */
    public static final int MOST = 20;

    private static final int LINES = 200;
    /** Lines of which a misspelt name shares a piece; a name that more share is too common a spelling to guess by. */
    private static final int MISSPELT_LINES = 20_000;

    private final Patients patients;
    private final JdbcClient jdbc;

    PatientSearch(Patients patients, JdbcClient jdbc) {
        this.patients = patients;
        this.jdbc = jdbc;
    }

    /**
     * Who was found.
     *
     * @param patients the best first, at most {@link #MOST}
     * @param more whether there are more than these
     * @param misspelt whether nobody is spelt as typed, and these are spelt almost so
     */
    public record Found(List<Patient> patients, boolean more, boolean misspelt) {
        public Found {
            patients = List.copyOf(patients);
        }
    }

    private record Line(UUID id, String text) {}

    /**
     * Searches.
     *
     * @param typed any text; longer than 80 letters is cut off
     * @param today the clinic's date, by which a year of two digits is read
     */
    @Transactional(readOnly = true)
    public Found find(ClinicId clinicId, String typed, LocalDate today) {
        Sought sought = Sought.of(typed, today);
        if (sought.isEmpty()) {
            return new Found(List.of(), false, false);
        }
        Set<UUID> ids = new LinkedHashSet<>();
        add(ids, sought, lines(clinicId, sought, Part::forms, LINES));
        boolean misspelt = ids.isEmpty() && sought.parts().stream().anyMatch(Part::name);
        if (misspelt) {
            add(
                    ids,
                    sought,
                    lines(clinicId, sought, Part::pieces, MISSPELT_LINES).stream()
                            .filter(line -> sought.parts().stream().allMatch(part -> part.nearly(line.text())))
                            .toList());
        }
        return new Found(read(clinicId, ids), ids.size() > MOST, misspelt && !ids.isEmpty());
    }

    /** Whole words of what was typed count most, then beginnings of words; else in the order of the names. */
    private static void add(Set<UUID> ids, Sought sought, Collection<Line> lines) {
        lines.stream()
                .sorted(Comparator.<Line>comparingLong(line -> -count(sought, part -> part.wholeWordOf(line.text())))
                        .thenComparingLong(line -> -count(sought, part -> part.beginsWordOf(line.text())))
                        .thenComparing(Line::text))
                .map(Line::id)
                .forEach(ids::add);
    }

    private static long count(Sought sought, Predicate<Part> fits) {
        return sought.parts().stream().filter(fits).count();
    }

    /** The lines that have one of the forms of each part; those come first of which each part begins a word. */
    private List<Line> lines(ClinicId clinicId, Sought sought, Function<Part, Set<String>> forms, int most) {
        List<Set<String>> wanted = sought.parts().stream().map(forms).toList();
        String sql = """
                select coalesce(merged_into, id) as id, search_text as text from patient
                where clinic_id = ? and %s order by case when %s then 0 else 1 end, search_text, id
                fetch first %d rows only""".formatted(allLike(wanted), allLike(wanted), most);
        List<Object> values = new ArrayList<>(List.of(clinicId.value()));
        for (String before : List.of("%", "% ")) {
            wanted.forEach(
                    one -> one.forEach(form -> values.add(before + form.replaceAll("[\\\\%_]", "\\\\$0") + "%")));
        }
        return jdbc.sql(sql).params(values).query(Line.class).list();
    }

    private static String allLike(List<Set<String>> wanted) {
        return wanted.stream()
                .map(forms -> forms.stream()
                        .map(form -> "search_text like ? escape '\\'")
                        .collect(Collectors.joining(" or ", "(", ")")))
                .collect(Collectors.joining(" and "));
    }

    private List<Patient> read(ClinicId clinicId, Set<UUID> ids) {
        List<UUID> first = ids.stream().limit(MOST).toList();
        Map<UUID, Patient> byId = patients.findByClinicIdAndIdIn(clinicId, first).stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
        return first.stream().map(byId::get).filter(Objects::nonNull).toList();
    }
}
