package org.earslot.exchange.mapping;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** The targets taken from the columns are those that were listed before. */
class TargetsBesideTest {

    @Test
    void targets_are_the_same() {
        assertThat(Targets.all()).isEqualTo(TargetsBefore.all()).hasSize(50);
        assertThat(Targets.NEEDED).isEqualTo(TargetsBefore.NEEDED);
        assertThat(Targets.TIMES).isEqualTo(TargetsBefore.TIMES);
        assertThat(Targets.TREATED).isEqualTo(TargetsBefore.TREATED);
        assertThat(Targets.general()).isEqualTo(TargetsBefore.general());
        assertThat(Targets.perEar()).isEqualTo(TargetsBefore.perEar());
        assertThat(Targets.meanings()).isEqualTo(TargetsBefore.meanings());
        assertThat(Targets.words("nothing")).isEmpty();
        for (String target : Targets.all()) {
            assertThat(Targets.words(target)).as(target).isEqualTo(TargetsBefore.words(target));
            assertThat(Targets.treated(target)).as(target).isEqualTo(TargetsBefore.treated(target));
            assertThat(Targets.holdsSeveral(target)).as(target).isEqualTo(TargetsBefore.holdsSeveral(target));
            assertThat(Targets.type(target).shape() == org.earslot.exchange.csv.CellType.Shape.TIME)
                    .as(target)
                    .isEqualTo(TargetsBefore.isTime(target));
        }
    }
}
