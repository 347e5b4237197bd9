package org.earslot;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Where H2 keeps its file: a folder made by this program is open to its own user alone, and so are the files of the
 * database, wherever they are.
 */
final class DataFolder {

    private static final Logger LOG = LoggerFactory.getLogger(DataFolder.class);
    private static final String H2 = "jdbc:h2:";
    private static final String FILE = "file:";

    private final Optional<Path> database;

    /** @param url of the database, of whatever kind */
    DataFolder(String url) {
        boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
        database = posix ? file(url) : Optional.empty();
    }

    /** Before H2 makes the folder itself. */
    void make() {
        Optional<Path> folder = database.map(Path::getParent).filter(parent -> !Files.exists(parent));
        FileAttribute<?> ownerAlone =
                PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rwx------"));
        folder.ifPresent(missing -> {
            try {
                Files.createDirectories(missing, ownerAlone);
            } catch (IOException e) {
                LOG.warn("The folder {} could not be made: {}", missing, e.toString());
            }
        });
    }

    /** Once the files are there. */
    void protectFiles() {
        database.ifPresent(file -> {
            try (DirectoryStream<Path> files = Files.newDirectoryStream(file.getParent(), file.getFileName() + ".*.db")) {
                for (Path each : files) {
                    Files.setPosixFilePermissions(each, PosixFilePermissions.fromString("rw-------"));
                }
            } catch (IOException e) {
                LOG.warn("Others may be able to read the database beside {}: {}", file, e.toString());
            }
        });
    }

    /** The path without the ending that H2 adds; empty where the database is no file of H2's own. */
    private static Optional<Path> file(String url) {
        if (!url.startsWith(H2)) {
            return Optional.empty();
        }
        String name = url.substring(H2.length()).split(";")[0];
        String path = name.startsWith(FILE) ? name.substring(FILE.length()) : name;
        boolean plain = name.startsWith(FILE) || path.startsWith(".") || path.startsWith("/") || path.startsWith("~");
        if (!plain || path.isBlank()) {
            return Optional.empty();
        }
        String absolute = path.startsWith("~") ? System.getProperty("user.home") + path.substring(1) : path;
        return Optional.of(Path.of(absolute).toAbsolutePath().normalize());
    }
}
