package org.earslot.invented;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** Invented visits as rows of the estimator's table, in the factors of {@link org.earslot.duration.table.Priors#earCare()}. */
public final class InventedTable {

    private InventedTable() {}

    /** The visit as asked about when it is booked: on time, nothing found yet. */
    public static VisitTerms asked(InventedVisit visit) {
        return terms(visit, false);
    }

    /**
     * The visit as the log keeps it.
     *
     * @param visit with minutes
     */
    public static VisitRow row(InventedVisit visit) {
        Ending ending = switch (visit.kept().stopped()) {
            case NO -> Ending.COMPLETED;
            case COMFORT, SAFETY -> Ending.STOPPED_FOR_COMFORT;
            case TIME -> Ending.STOPPED_FOR_TIME;
        };
        return terms(visit, true).took(visit.minutes(), ending);
    }

    /** All rows of these visits. */
    public static List<VisitRow> rows(List<InventedVisit> visits) {
        return visits.stream().map(InventedTable::row).toList();
    }

    private static VisitTerms terms(InventedVisit visit, boolean after) {
        InventedVisit.Told told = visit.told();
        List<Term> once = new ArrayList<>();
        once.add(Term.level("first_visit", told.firstVisit() ? "yes" : "no"));
        once.add(Term.level("hearing_aid", told.hearingAid() ? "yes" : "no"));
        if (told.cautions().contains(Caution.NEEDS_SUPPORT)) {
            once.add(Term.level("caution.needs_support", "yes"));
        }
        List<Part> parts =
                told.ears().each().stream().map(ear -> part(visit, ear, after)).toList();
        return new VisitTerms(
                once,
                parts,
                "P" + (told.practitioner() + 1),
                "K" + told.patient(),
                "F" + (told.referrer() + 1),
                told.date().toEpochDay(),
                after ? visit.lateness() : 0);
    }

    private static Part part(InventedVisit visit, Ear ear, boolean after) {
        InventedVisit.Told told = visit.told();
        EarFindings reported = told.reported().getOrDefault(ear, EarFindings.UNKNOWN);
        EarFindings found = after ? visit.kept().found().getOrDefault(ear, EarFindings.UNKNOWN) : EarFindings.UNKNOWN;
        List<Term> terms = new ArrayList<>();
        terms.add(Term.found("wax", code(reported.wax()), code(found.wax())));
        terms.add(Term.found("canal", code(reported.canal()), code(found.canal())));
        terms.add(Term.found("depth", code(reported.depth()), code(found.depth())));
        terms.add(Term.found("occlusion", code(reported.occlusion()), code(found.occlusion())));
        terms.add(Term.level("softener", softener(told.softenerDays())));
        terms.add(Term.level("side", ear.code()));
        for (Caution caution : told.cautions()) {
            if (caution != Caution.NEEDS_SUPPORT) {
                terms.add(Term.level("caution." + caution.code(), "yes"));
            }
        }
        List<String> used = after
                ? visit.kept().used().getOrDefault(ear, List.of()).stream()
                        .map(Method::code)
                        .toList()
                : List.of();
        return new Part(ear.code(), told.method().code(), used, terms);
    }

    private static String softener(int days) {
        if (days == 0) {
            return "none";
        }
        return days <= 2 ? "days_1_2" : days <= 4 ? "days_3_4" : days <= 7 ? "days_5_7" : "days_8_more";
    }

    private static @Nullable String code(@Nullable Word word) {
        return word == null ? null : word.code();
    }
}
