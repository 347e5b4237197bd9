package org.earslot.exchange.imports;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A folder of this server alone below the system's temporary folder, readable by nobody else; a lock says it is alive. */
final class UploadFolder {

    private static final Logger LOG = LoggerFactory.getLogger(UploadFolder.class);
    private static final String PREFIX = "earslot-uploads-";
    private static final String LOCK = "lock";

    /** Folders of this process: to open and close their lock files would give the locks up, as POSIX has it. */
    private static final Set<Path> OWN = ConcurrentHashMap.newKeySet();

    private final Path folder;
    private final FileChannel channel;

    private UploadFolder(Path folder, FileChannel channel) {
        this.folder = folder;
        this.channel = channel;
    }

    static UploadFolder open() throws IOException {
        Path parent = Path.of(System.getProperty("java.io.tmpdir"));
        sweep(parent);
        Path folder = Files.createTempDirectory(parent, PREFIX);
        OWN.add(folder);
        FileChannel channel =
                FileChannel.open(folder.resolve(LOCK), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        channel.lock();
        return new UploadFolder(folder, channel);
    }

    Path file(UUID id) {
        return folder.resolve(id + ".csv");
    }

    void close() {
        try {
            channel.close();
            delete(folder);
        } catch (IOException e) {
            LOG.warn(
                    "The folder of uploads could not be deleted: {}",
                    e.getClass().getSimpleName());
        }
    }

    /** Deletes the folders whose server is gone. */
    private static void sweep(Path parent) {
        try (DirectoryStream<Path> left = Files.newDirectoryStream(parent, PREFIX + "*")) {
            for (Path folder : left) {
                if (!OWN.contains(folder) && isAbandoned(folder)) {
                    delete(folder);
                }
            }
        } catch (IOException e) {
            LOG.warn(
                    "Old folders of uploads could not be looked for: {}",
                    e.getClass().getSimpleName());
        }
    }

    /** A folder without a lock file may just be about to get one, so it is left alone. */
    private static boolean isAbandoned(Path folder) {
        try (FileChannel channel = FileChannel.open(folder.resolve(LOCK), StandardOpenOption.WRITE);
                FileLock lock = channel.tryLock()) {
            return lock != null;
        } catch (IOException | OverlappingFileLockException e) {
            return false;
        }
    }

    private static void delete(Path folder) throws IOException {
        List<Path> all;
        try (Stream<Path> found = Files.walk(folder)) {
            all = found.sorted(Comparator.reverseOrder()).toList();
        }
        for (Path path : all) {
            Files.deleteIfExists(path);
        }
    }
}
