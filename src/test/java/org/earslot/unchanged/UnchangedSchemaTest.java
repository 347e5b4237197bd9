package org.earslot.unchanged;

import java.io.IOException;
import java.sql.SQLException;
import org.junit.jupiter.api.Test;

/**
 * The migrations make of an empty database what was recorded; see {@link UnchangedBehaviourTest} for how to record again
 * and when to remove this.
 */
class UnchangedSchemaTest {

    @Test
    void schema_of_h2_is_as_recorded() throws SQLException, IOException {
        Recorded.compare("schema-h2.txt", WrittenSchema.onH2());
    }

    @Test
    void schema_of_postgres_is_as_recorded() throws SQLException, IOException {
        Recorded.compare("schema-postgresql.txt", WrittenSchema.onPostgres());
    }
}
