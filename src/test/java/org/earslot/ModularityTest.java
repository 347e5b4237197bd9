package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.springframework.modulith.core.ApplicationModules;

/** The rooms and their arrows are as each package-info says. */
class ModularityTest {

    @Test
    void rooms_depend_only_on_the_rooms_they_name() {
        ApplicationModules rooms = ApplicationModules.of(Earslot.class);
        assertThat(rooms.stream().count()).isGreaterThanOrEqualTo(5);
        rooms.verify();
    }
}
