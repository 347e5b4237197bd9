package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import jakarta.persistence.EntityManagerFactory;
import org.earslot.testing.OnH2;
import org.earslot.testing.OnPostgres;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;

/** The migrations run on both databases, and the entities fit what they make (validated at start). */
class SchemaTest {

    abstract static class Schema {
        @Autowired
        private EntityManagerFactory entities;

        @Test
        void fits_every_entity() {
            assertThat(entities.getMetamodel().getEntities()).hasSizeGreaterThan(8);
        }
    }

    @Nested
    @SpringBootTest
    @OnH2
    class OnH2Database extends Schema {}

    @Nested
    @SpringBootTest
    @OnPostgres
    class OnPostgresDatabase extends Schema {}
}
