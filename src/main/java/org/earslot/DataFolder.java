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
import org.springframework.beans.factory.config.BeanFactoryPostProcessor;
import org.springframework.beans.factory.config.ConfigurableListableBeanFactory;
import org.springframework.context.EnvironmentAware;
import org.springframework.core.env.Environment;
import org.springframework.stereotype.Component;

/**
 * Where H2 keeps its file: a folder made by this program is open to its own user alone, and so are the files of the
 * database, wherever they are.
 */
@Component
final class DataFolder implements BeanFactoryPostProcessor, EnvironmentAware {

    private static final Logger LOG = LoggerFactory.getLogger(DataFolder.class);
    private static final String H2 = "jdbc:h2:";
    private static final String FILE = "file:";

    private Optional<Path> database = Optional.empty();

    @Override
    public void setEnvironment(Environment environment) {
        if (FileSystems.getDefault().supportedFileAttributeViews().contains("posix")) {
            database = file(environment.getProperty("spring.datasource.url", ""));
        }
    }

    /** Before any bean opens the database, and H2 makes the folder itself. */
    @Override
    public void postProcessBeanFactory(ConfigurableListableBeanFactory beans) {
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
            try (DirectoryStream<Path> files =
                    Files.newDirectoryStream(file.getParent(), file.getFileName() + ".*.db")) {
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
