package org.earslot.daysheet;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.diary.DayDiaries;
import org.earslot.diary.DayDiary;
import org.earslot.diary.DayDiary.Lane;
import org.earslot.diary.DayDiary.Line;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads the running lists of a day. */
@Service
public class RunningLists {

    private final DayDiaries diaries;
    private final EarHistory history;

    RunningLists(DayDiaries diaries, EarHistory history) {
        this.diaries = diaries;
        this.history = history;
    }

    /** A practitioner who has a list on that day. */
    public record Choice(UUID practitionerId, String practitioner) {}

    /** The lists of a day: all who have one, and the list shown. */
    public record Shown(List<Choice> choices, Optional<RunningList> list) {}

    /** The day with the list of {@code practitionerId}, or of the first by name where that is empty. */
    @Transactional(readOnly = true)
    public Shown of(UUID clinicId, LocalDate date, Optional<UUID> practitionerId) {
        DayDiary day = diaries.of(clinicId, date);
        List<Choice> choices = day.lanes().stream()
                .filter(lane -> !lane.lines().isEmpty())
                .map(lane -> new Choice(lane.practitionerId(), lane.practitionerName()))
                .toList();
        Optional<Lane> lane = practitionerId.isPresent()
                ? day.lane(practitionerId.get())
                : choices.stream().findFirst().flatMap(first -> day.lane(first.practitionerId()));
        return new Shown(choices, lane.map(shown -> list(clinicId, date, shown)));
    }

    private RunningList list(UUID clinicId, LocalDate date, Lane lane) {
        Optional<Line> atHand = RunningList.atHand(lane);
        List<Ear> ears = atHand.map(line -> line.what().ears()).map(Ears::each).orElse(List.of());
        String patient = atHand.map(line -> line.who().localNumber()).orElse("");
        return RunningList.of(date, lane, history.lastTimes(clinicId, patient, ears, date));
    }
}
