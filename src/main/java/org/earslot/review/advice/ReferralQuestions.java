package org.earslot.review.advice;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.Question;
import org.earslot.estimate.VisitPlan;
import org.earslot.estimate.WhoCanAnswer;
import org.earslot.visit.VisitRecord;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Works out what asking a question at every referral would have saved: the estimator's own value of each question, over a
 * sample of the visits booked in the last months, each as it stood at referral.
 */
@Component
class ReferralQuestions {

    /** So many months up to the end of the reviewed one. */
    static final int MONTHS = 3;

    /** Every so many-th visit, so that about as many are looked at, whatever the size of the clinic. */
    static final int SAMPLED = 60;

    static final int MAXIMUM_SIZE = 1_000;

    /** Below this a question is not worth asking; the project's own choice, minutes. */
    private static final double LEAST = 0.005;

    private static final String BOOKED = " from visit where clinic_id = :clinic and visit_date between :first and :last"
            + " and " + VisitRecord.NOT_CANCELLED;

    /** Numbered by their ids alone, so that only those chosen are read whole. */
    private static final String SAMPLE = "select visit.* from visit join (select id as chosen,"
            + " row_number() over (order by visit_date, visit_ref) as place" + BOOKED
            + ") numbered on chosen = visit.id where mod(place, :step) = 0 order by place";

    private final JdbcClient database;
    private final Estimates estimates;
    private final Cache<Asked, List<Question>> cache = Caffeine.newBuilder()
            .maximumSize(MAXIMUM_SIZE)
            .executor(Runnable::run)
            .build();

    /** What to ask follows from the fit and from what is known, so no entry has to be invalidated. */
    private record Asked(ClinicId clinicId, String version, VisitPlan plan) {}

    ReferralQuestions(JdbcClient database, Estimates estimates) {
        this.database = database;
        this.estimates = estimates;
    }

    QuestionsAsked upTo(ClinicId clinicId, YearMonth month) {
        int visits = booked(clinicId, month);
        List<VisitPlan> plans = sampled(clinicId, month, visits);
        return plans.isEmpty() ? new QuestionsAsked(0, 0, List.of()) : added(visits, questions(clinicId, plans));
    }

    /** Visits booked in the months up to {@code month}. */
    int booked(ClinicId clinicId, YearMonth month) {
        return within("select count(*)" + BOOKED, clinicId, month)
                .query(Integer.class)
                .single();
    }

    /** Every so many-th of them, as it stood at referral. */
    List<VisitPlan> sampled(ClinicId clinicId, YearMonth month, int visits) {
        return within(SAMPLE, clinicId, month)
                .param("step", Math.max(1, (visits + SAMPLED - 1) / SAMPLED))
                .query((row, number) -> plan(row))
                .list();
    }

    private JdbcClient.StatementSpec within(String sql, ClinicId clinicId, YearMonth month) {
        return database.sql(sql)
                .param("clinic", clinicId.value())
                .param("first", month.minusMonths(MONTHS - 1).atDay(1))
                .param("last", month.atEndOfMonth());
    }

    private List<List<Question>> questions(ClinicId clinicId, List<VisitPlan> plans) {
        String version = estimates.version(clinicId);
        Set<Asked> asked =
                plans.stream().map(plan -> new Asked(clinicId, version, plan)).collect(Collectors.toSet());
        Map<VisitPlan, List<Question>> answers = new HashMap<>();
        cache.getAllPresent(asked).forEach((one, questions) -> answers.put(one.plan(), questions));
        List<VisitPlan> open = plans.stream()
                .filter(plan -> !answers.containsKey(plan))
                .distinct()
                .toList();
        List<Estimate> estimated = open.isEmpty() ? List.of() : estimates.estimateAll(clinicId, open);
        for (int i = 0; i < open.size(); i++) {
            Estimate estimate = estimated.get(i);
            answers.put(open.get(i), estimate.ask());
            cache.put(new Asked(clinicId, estimate.version(), open.get(i)), estimate.ask());
        }
        return plans.stream().map(answers::get).toList();
    }

    private static QuestionsAsked added(int visits, List<List<Question>> sampled) {
        Map<String, List<Question>> byFinding = sampled.stream()
                .flatMap(List::stream)
                .filter(question -> question.whoCanAnswer() != WhoCanAnswer.PRACTITIONER)
                .collect(Collectors.groupingBy(Question::factor, TreeMap::new, Collectors.toList()));
        List<QuestionLine> lines = new ArrayList<>();
        byFinding.forEach((finding, questions) -> {
            double sum = questions.stream().mapToDouble(Question::savesMinutes).sum();
            if (sum / questions.size() >= LEAST) {
                lines.add(new QuestionLine(
                        finding,
                        questions.get(0).whoCanAnswer().code(),
                        questions.size(),
                        sum / questions.size(),
                        sum / sampled.size() * visits));
            }
        });
        lines.sort(Comparator.comparingDouble(QuestionLine::minutesAll).reversed());
        return new QuestionsAsked(visits, sampled.size(), List.copyOf(lines));
    }

    /** The visit as it stood at referral, by no one in particular, for a patient not seen before. */
    private static VisitPlan plan(ResultSet row) throws SQLException {
        VisitRecord visit = new VisitRecord(row);
        Map<Ear, EarFindings> reported = new EnumMap<>(Ear.class);
        for (Ear ear : visit.ears().each()) {
            reported.put(ear, visit.reported(ear));
        }
        return new VisitPlan(
                null,
                null,
                visit.method(),
                visit.ears(),
                visit.firstVisit(),
                visit.hearingAid(),
                Set.<Caution>of(),
                visit.softenerDays(),
                reported,
                visit.referrer());
    }
}
