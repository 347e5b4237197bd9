package org.earslot.testing;

import javax.sql.DataSource;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.configuration.FluentConfiguration;

/** The migrations as the program finds them, for tests that migrate a database without starting the program. */
public final class Schema {

    private Schema() {}

    /** For a database of H2. */
    public static FluentConfiguration onH2(DataSource database) {
        return of("h2").dataSource(database);
    }

    /** The migrations of a vendor, {@code h2} or {@code postgresql}, without a database. */
    public static FluentConfiguration of(String vendor) {
        return Flyway.configure().locations("classpath:migration/common", "classpath:migration/" + vendor);
    }
}
