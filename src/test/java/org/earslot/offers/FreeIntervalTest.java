package org.earslot.offers;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.earslot.offers.FreeInterval.Found;
import org.earslot.offers.FreeInterval.Wanted;
import org.junit.jupiter.api.Test;

class FreeIntervalTest {

    /** 09:00 to 12:00 with a break 10:30 to 10:45. */
    private static final FreeInterval MORNING = new FreeInterval(540, 720, 630, 645, 5);

    @Test
    void keeps_wanted_starts_that_fit_and_cuts_a_slot_to_the_way_to_the_next() {
        assertThat(MORNING.fitted(List.of(moving(540, 30), moving(560, 30), moving(600, 30))))
                .contains(List.of(new Found(540, 20), new Found(560, 30), new Found(600, 30)));
    }

    @Test
    void brings_back_what_would_pass_the_end_and_moves_out_of_the_break() {
        assertThat(MORNING.fitted(List.of(moving(640, 20), moving(715, 20))))
                .contains(List.of(new Found(620, 10), new Found(710, 10)));
        assertThat(new FreeInterval(610, 720, 615, 645, 5).fitted(List.of(moving(610, 20))))
                .contains(List.of(new Found(645, 20)));
    }

    @Test
    void leaves_kept_visits_alone_and_gives_up_where_the_others_do_not_fit() {
        Wanted kept = new Wanted(545, 30, 10, true);
        assertThat(MORNING.fitted(List.of(moving(540, 30), kept))).isEmpty();
        assertThat(MORNING.fitted(List.of(kept, moving(550, 30))))
                .contains(List.of(new Found(545, 30), new Found(575, 30)));
    }

    @Test
    void never_overlaps_never_leaves_the_session_and_keeps_to_the_grid() {
        SplittableRandom random = new SplittableRandom(4);
        int fitted = 0;
        for (int run = 0; run < 5_000; run++) {
            List<Wanted> wanted = new ArrayList<>();
            int at = 540;
            for (int i = 0; i < 1 + random.nextInt(8); i++) {
                int slot = 10 + 5 * random.nextInt(5);
                wanted.add(new Wanted(at + random.nextInt(20), slot, 10, false));
                at += random.nextInt(35);
            }
            Optional<List<Found>> found = MORNING.fitted(wanted);
            if (found.isPresent()) {
                fitted++;
                assertSound(wanted, found.get());
            }
        }
        assertThat(fitted).isGreaterThan(2_500);
    }

    private static void assertSound(List<Wanted> wanted, List<Found> found) {
        int free = 540;
        for (int i = 0; i < found.size(); i++) {
            Found each = found.get(i);
            int end = each.start() + each.slot();
            assertThat(each.start()).isGreaterThanOrEqualTo(free);
            assertThat(each.start() % 5).isZero();
            assertThat(each.slot()).isBetween(10, wanted.get(i).slot());
            assertThat(each.start() >= 645 || end <= 630).isTrue();
            assertThat(end).isLessThanOrEqualTo(720);
            free = end;
        }
    }

    private static Wanted moving(int start, int slot) {
        return new Wanted(start, slot, 10, false);
    }
}
