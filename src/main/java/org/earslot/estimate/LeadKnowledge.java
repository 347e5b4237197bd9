package org.earslot.estimate;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What the leads of clinics said of their minutes: each change is a row, the latest is in force, and undoing it stores the row
 * before once more. Every change leads to a new fit.
 */
@Service
public class LeadKnowledge {

    private final JdbcTemplate database;
    private final Estimates estimates;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    LeadKnowledge(JdbcTemplate database, Estimates estimates, ClinicClock clock, ApplicationEventPublisher events) {
        this.database = database;
        this.estimates = estimates;
        this.clock = clock;
        this.events = events;
    }

    /** Answers with who gave them and when. */
    public record Said(LeadAnswers answers, String by, Instant at) {}

    /** Answers of the lead changed: a new fit is due. */
    record Changed(ClinicId clinicId) {}

    /** What was said last; empty if nothing ever was. */
    public Optional<Said> latest(ClinicId clinicId) {
        return lastTwo(clinicId).stream().findFirst();
    }

    /** What is in force. */
    public LeadAnswers answers(ClinicId clinicId) {
        return latest(clinicId).map(Said::answers).orElse(LeadAnswers.NONE);
    }

    private List<Said> lastTwo(ClinicId clinicId) {
        return database.query(
                "select answers, said_by, said_at from lead_answers where clinic_id = ? order by id desc fetch first 2 rows only",
                (row, number) -> new Said(
                        LeadAnswers.read(row.getString("answers")),
                        row.getString("said_by"),
                        row.getObject("said_at", OffsetDateTime.class).toInstant()),
                clinicId.value());
    }

    /** Puts answers in force; those in force already change nothing. */
    @Transactional
    public void say(ClinicId clinicId, LeadAnswers answers, String who) {
        if (!answers.equals(answers(clinicId))) {
            store(clinicId, "lead-answers-given", answers, who);
        }
    }

    /** Puts the answers before the last change in force again; false if there was no change. */
    @Transactional
    public boolean undo(ClinicId clinicId, String who) {
        List<Said> last = lastTwo(clinicId);
        if (last.isEmpty()) {
            return false;
        }
        store(clinicId, "lead-answers-undone", last.size() > 1 ? last.get(1).answers() : LeadAnswers.NONE, who);
        return true;
    }

    private void store(ClinicId clinicId, String action, LeadAnswers answers, String who) {
        database.update(
                "insert into lead_answers (clinic_id, said_by, said_at, answers) values (?, ?, ?, ?)",
                clinicId.value(),
                who,
                OffsetDateTime.ofInstant(clock.now(), ZoneOffset.UTC),
                answers.text());
        events.publishEvent(
                new Audited.Entry(clinicId, action, "set-up", clinicId.toString(), "minutes: " + answers.text()));
        events.publishEvent(new Changed(clinicId));
    }

    /** What answers imply without any visit: an estimate of each method and number of ears that something was said of. */
    public Map<LeadAnswers.Kind, Estimate> implied(ClinicId clinicId, LeadAnswers answers) {
        FitChoices choices = FitChoices.now(false, 0.75).saying(answers);
        ActiveModel model =
                ActiveModel.of(Estimate.ASSUMED, choices.asEstimator().fit(List.of()), choices);
        List<LeadAnswers.Kind> kinds = answers.minutes().keySet().stream()
                .filter(kind -> kind.about() == LeadAnswers.About.ONE || kind.about() == LeadAnswers.About.BOTH)
                .toList();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                kinds.stream()
                        .map(kind -> VisitPlan.of(kind.method(), kind.about().ears()))
                        .toList(),
                model);
        Map<LeadAnswers.Kind, Estimate> implied = new TreeMap<>();
        for (int i = 0; i < kinds.size(); i++) {
            implied.put(kinds.get(i), each.get(i));
        }
        return implied;
    }
}
