package org.earslot.duration.predict;

import java.util.Arrays;
import java.util.List;
import org.earslot.duration.findings.Circumstances;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;

/**
 * Puts a visit, past or to come, into the numbers of a fit, with shares for what is not known. Reusable, for one thread.
 */
public final class QueryEncoder {

    private final Layout layout;
    private final boolean[] recorded;
    private final ReportTables tables;
    private final Circumstances.Buffer given = new Circumstances.Buffer();

    public QueryEncoder(Layout layout, boolean[] recorded, ReportTables tables) {
        this.layout = layout;
        this.recorded = recorded;
        this.tables = tables;
    }

    /** What was found in this person before. */
    interface Memory {
        /** As {@link org.earslot.duration.past.LastFindings} packs it. */
        long of(String part, int factor);
    }

    // ---- of a past visit, as it stood beforehand ------------------------------------------------------------------

    /** A past visit as a question: reports and memory are kept, what was found is forgotten. */
    public Query of(PastVisits visits, int row, double personMean, double personVariance) {
        Query asked = new Query(visits.group[row], visits.late[row], personMean, personVariance);
        for (int s = visits.firstSegment[row]; s < visits.firstSegment[row + 1]; s++) {
            int kind = visits.kind[s];
            Query.Segment segment =
                    new Query.Segment("", kind, kind == Names.NONE ? "" : layout.vocabulary.kinds.name(kind));
            tables.circumstances.gather(visits, row, s, given);
            for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                long term = visits.term[t];
                int factor = PastVisits.factorOf(term);
                if (PastVisits.isNumber(term)) {
                    number(segment, kind + 1, factor, visits.numberOf(term));
                    continue;
                }
                if (PastVisits.isCertain(term)) {
                    certain(segment, kind + 1, factor, PastVisits.foundOf(term), "");
                } else {
                    finding(
                            segment,
                            kind + 1,
                            factor,
                            PastVisits.reportedOf(term),
                            visits.source[row],
                            visits.recollection(t));
                }
            }
            asked.segments.add(segment);
        }
        alike(asked);
        return asked;
    }

    // ---- of a visit to come ----------------------------------------------------------------------------------------

    public Query of(VisitTerms visit, Memory memory, double personMean, double personVariance) {
        Vocabulary names = layout.vocabulary;
        Query asked = new Query(names.groups.find(visit.group()), visit.lateness(), personMean, personVariance);
        int source = names.sources.find(visit.source());
        Query.Segment once = new Query.Segment("", Names.NONE, "");
        given.count = 0;
        circumstances(visit.once());
        int paidOnce = given.count;
        add(once, 0, "*", visit.once(), source, "", memory);
        asked.segments.add(once);
        for (Part part : visit.parts()) {
            int kind = names.kinds.find(part.kind());
            Query.Segment segment = new Query.Segment(part.name(), kind, part.kind());
            if (kind == Names.NONE) {
                unseen(segment, layout.unseenBase(part.kind()));
            }
            given.count = paidOnce;
            circumstances(part.terms());
            if (kind != Names.NONE) {
                given.add(tables.circumstances.ofKind(kind));
            }
            add(segment, kind + 1, part.kind(), part.terms(), source, part.name(), memory);
            if (kind != Names.NONE && layout.changeFactor != Names.NONE) {
                long before = memory.of(part.name(), layout.changeFactor);
                finding(segment, kind + 1, layout.changeFactor, Names.NONE, source, before);
            }
            asked.segments.add(segment);
        }
        alike(asked);
        return asked;
    }

    private void circumstances(List<Term> terms) {
        for (Term term : terms) {
            int factor = layout.vocabulary.factors.find(term.factor());
            if (factor != Names.NONE && term instanceof Term.Level level) {
                int known = layout.vocabulary.levels.get(factor).find(level.level());
                given.add(known == Names.NONE ? Names.NONE : tables.circumstances.of(factor, known));
            }
        }
    }

    private void add(
            Query.Segment segment, int place, String kind, List<Term> terms, int source, String part, Memory memory) {
        boolean unseenKind = segment.kind == Names.NONE && place == 0 && !segment.kindName.isEmpty();
        for (Term term : terms) {
            int factor = layout.vocabulary.factors.find(term.factor());
            if (factor == Names.NONE || unseenKind) {
                unseen(segment, place, kind, term);
            } else if (term instanceof Term.Number number) {
                number(segment, place, factor, number.value());
            } else if (term instanceof Term.Level level) {
                int known = layout.vocabulary.levels.get(factor).find(level.level());
                if (known == Names.NONE) {
                    unseen(segment, place, kind, term);
                } else {
                    certain(segment, place, factor, known, level.level());
                }
            } else if (term instanceof Term.Mixture mixture) {
                mixture(segment, place, factor, mixture);
            } else if (term instanceof Term.Finding finding) {
                int reported = layout.vocabulary.levels.get(factor).find(finding.reported());
                finding(segment, place, factor, reported, source, memory.of(part, factor));
            }
        }
    }

    /** Something that no past visit had: what the priors say, with all their doubt. */
    private void unseen(Query.Segment segment, int place, String kind, Term term) {
        if (term instanceof Term.Level level && !level.level().equals("no")) {
            unseen(
                    segment,
                    layout.priors.line(
                            segment.kindName.isEmpty() ? Place.ONCE : Place.PART, kind, term.factor(), level.level()));
        }
    }

    private static void unseen(Query.Segment segment, Prior line) {
        segment.unseenMean += Math.log(line.value());
        segment.unseenVariance += line.spread() * line.spread();
    }

    // ---- both -------------------------------------------------------------------------------------------------------

    private void number(Query.Segment segment, int place, int factor, double value) {
        int column = layout.numberColumns[place][factor];
        if (column != Layout.NONE) {
            double centred = (value - layout.numberCentre[factor]) / layout.numberScale[factor];
            segment.entries.add(new Query.Entry(factor, "", new int[] {column}, new double[] {centred}, true, false));
        }
    }

    private void certain(Query.Segment segment, int place, int factor, int level, String label) {
        if (factor == layout.sideFactor && place > 0) {
            segment.side = level;
        }
        int[] columns = columns(place, factor);
        if (columns != null) {
            double[] shares = new double[columns.length];
            shares[level] = 1;
            segment.entries.add(new Query.Entry(factor, label, columns, shares, false, false));
        }
    }

    private void mixture(Query.Segment segment, int place, int factor, Term.Mixture mixture) {
        int[] columns = columns(place, factor);
        if (columns == null) {
            return;
        }
        double[] shares = new double[columns.length];
        double left = 1;
        for (var share : mixture.shares().entrySet()) {
            int level = layout.vocabulary.levels.get(factor).find(share.getKey());
            if (level != Names.NONE) {
                shares[level] += share.getValue();
                left -= share.getValue();
            }
        }
        // Levels never seen stand at the reference.
        shares[layout.vocabulary.reference(factor)] += Math.max(0, left);
        segment.entries.add(new Query.Entry(factor, "", columns, shares, false, false));
    }

    private void finding(Query.Segment segment, int place, int factor, int reported, int source, long before) {
        int[] columns = columns(place, factor);
        if (columns == null || columns.length < 2) {
            return;
        }
        double[] shares = new double[columns.length];
        tables.of(factor).shares(reported, source, given, before, shares);
        String label = reported == Names.NONE
                ? ""
                : layout.vocabulary.levels.get(factor).name(reported);
        segment.entries.add(new Query.Entry(factor, label, columns, shares, false, true));
    }

    /** What is said of one part says something of the others. */
    private void alike(Query asked) {
        for (int one = 1; one < asked.segments.size() - 1; one++) {
            for (int other = one + 1; other < asked.segments.size(); other++) {
                for (Query.Entry first : asked.segments.get(one).entries) {
                    for (Query.Entry second : asked.segments.get(other).entries) {
                        if (first.factor() == second.factor() && first.finding() && second.finding()) {
                            alike(asked, one, other, first, second);
                        }
                    }
                }
            }
        }
    }

    private void alike(Query asked, int one, int other, Query.Entry first, Query.Entry second) {
        double[] together = tables.of(first.factor()).resemblance.together(first.shares(), second.shares());
        Arrays.fill(first.shares(), 0);
        Arrays.fill(second.shares(), 0);
        int levels = second.shares().length;
        for (int i = 0; i < together.length; i++) {
            first.shares()[i / levels] += together[i];
            second.shares()[i % levels] += together[i];
        }
        asked.pairs.add(new Query.Pair(one, other, first.columns(), second.columns(), together));
    }

    private int @org.jspecify.annotations.Nullable [] columns(int place, int factor) {
        return recorded[factor] ? layout.columns[place][factor] : null;
    }
}
