package org.earslot.clinic;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Service;

/**
 * Copies the H2 file while the program runs. The copy is a zip archive beside the file, readable by the program's own
 * user alone; to restore it, stop the program and unpack the archive in place of the file. PostgreSQL is backed up by
 * its own means.
 */
@Service
public class Backups {

    private static final DateTimeFormatter NAME =
            DateTimeFormatter.ofPattern("'backup-'yyyyMMdd-HHmmss'.zip'", Locale.ROOT);
    private static final String OWNER_ALONE = "rw-------";

    private final JdbcTemplate jdbc;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Backups(JdbcTemplate jdbc, ClinicClock clock, ApplicationEventPublisher events) {
        this.jdbc = jdbc;
        this.clock = clock;
        this.events = events;
    }

    /** The file that a copy can be made of; empty if the database is none of H2, or in memory. */
    public Optional<Path> file() {
        boolean h2 = Boolean.TRUE.equals(jdbc.<Boolean>execute((java.sql.Connection connection) ->
                connection.getMetaData().getDatabaseProductName().equals("H2")));
        String path = h2 ? jdbc.queryForObject("select database_path()", String.class) : null;
        return Optional.ofNullable(path).map(Path::of);
    }

    /** Copies the file as it is now and answers where to; empty if there is none. */
    public Optional<Path> make(CurrentClinic current) throws IOException {
        Optional<Path> file = file();
        if (file.isEmpty()) {
            return Optional.empty();
        }
        String name = NAME.format(clock.now().atOffset(ZoneOffset.UTC));
        Path copy = file.get().resolveSibling(name).toAbsolutePath().normalize();
        try {
            create(copy);
        } catch (FileAlreadyExistsException e) {
            // Pressed twice: the copy of this very second is there, or is being made.
            return Optional.of(copy);
        }
        jdbc.execute("backup to '" + copy.toString().replace("'", "''") + "'");
        events.publishEvent(new Audited.Entry(current.id(), "backup-made", "clinic", null, name));
        return Optional.of(copy);
    }

    private static void create(Path copy) throws IOException {
        if (FileSystems.getDefault().supportedFileAttributeViews().contains("posix")) {
            Files.createFile(copy, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(OWNER_ALONE)));
        } else {
            Files.createFile(copy);
        }
    }
}
