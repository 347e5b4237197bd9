package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import jakarta.persistence.EntityManagerFactory;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

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
    @PageTest
    class OnH2Database extends Schema {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Schema {}
}
