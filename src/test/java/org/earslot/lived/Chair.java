package org.earslot.lived;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;

/** A practitioner by the chair, who works by the running list alone: call in, finished, findings, room ready. */
final class Chair {

    private static final int LOOK_AGAIN_MINUTES = 3;
    private static final int ROOM_READY_MINUTES = 3;
    private static final double STOPPED = 0.07;

    private final Clinic clinic;
    private final Journal journal;
    private final Events events;
    private final Random random;
    private final String practitioner;
    private final LocalDate date;
    private boolean resting;

    Chair(Clinic clinic, Journal journal, Events events, Random random, String practitioner, LocalDate date) {
        this.clinic = clinic;
        this.journal = journal;
        this.events = events;
        this.random = random;
        this.practitioner = practitioner;
        this.date = date;
    }

    /** Free: calls the next one in who is here, or looks again a little later while somebody may still come. */
    void free() {
        Page page = list();
        Optional<Page.Form> next = page.forms("/appointments/[0-9a-f-]{36}/call-in").stream()
                .filter(form -> journal.has(appointment(form), "arrived") && !journal.isOff(appointment(form)))
                .findFirst();
        if (next.isPresent()) {
            callIn(next.get());
            return;
        }
        resting = true;
        boolean someoneLeft = clinic.visits(date).stream()
                .anyMatch(
                        visit -> visit.practitioner().equals(practitioner) && !visit.isOff() && !visit.has("finished"));
        if (someoneLeft && clinic.now().getHour() < 20) {
            lookAgain();
        }
    }

    /** Somebody is booked with this practitioner: one who thought the list was done looks again. */
    void expects() {
        if (resting) {
            lookAgain();
        }
    }

    private void lookAgain() {
        resting = false;
        events.at(clinic.now().plusMinutes(LOOK_AGAIN_MINUTES), this::free);
    }

    private void callIn(Page.Form form) {
        String id = appointment(form);
        LocalDateTime from = clinic.now();
        person().send(form);
        journal.happened(id, date, "calledIn", from, clinic.now());
        boolean stopped = random.nextDouble() < STOPPED;
        int minutes = (int) Math.max(4, Math.round(15 * Math.exp(0.45 * random.nextGaussian())));
        events.at(from.plusMinutes(stopped ? 4 : minutes), () -> finish(id, stopped));
    }

    private void finish(String id, boolean stopped) {
        LocalDateTime from = clinic.now();
        Page after = person().press(list(), "/appointments/" + id + "/finish");
        journal.happened(id, date, "finished", from, clinic.now());
        record(after, id, stopped);
        events.at(from.plusMinutes(ROOM_READY_MINUTES), () -> roomReady(id));
    }

    /** As expected, one press an ear; or stopped early for comfort, said in the findings. */
    private void record(Page page, String id, boolean stopped) {
        List<Page.Form> asExpected = page.forms("/appointments/" + id + "/findings/(right|left)/as-expected");
        if (!stopped) {
            asExpected.forEach(form -> person().send(form));
            return;
        }
        page.form("/appointments/" + id + "/findings").ifPresent(form -> {
            Map<String, String> said = new HashMap<>(Map.of("stoppedEarly", "comfort"));
            asExpected.forEach(ear -> said.put(ear.action().split("/")[4] + ".outcome", "not_removed"));
            person().send(form.with(said));
        });
    }

    private void roomReady(String id) {
        LocalDateTime from = clinic.now();
        person().press(list(), "/appointments/" + id + "/room-ready");
        journal.happened(id, date, "roomReady", from, clinic.now());
        events.at(from, this::free);
    }

    private Page list() {
        return person().open("/day/" + date + "/now");
    }

    private Person person() {
        return clinic.practitioner(practitioner);
    }

    private static String appointment(Page.Form form) {
        return form.action().split("/")[2];
    }
}
