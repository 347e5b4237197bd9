package org.earslot.exchange.imports;

import jakarta.annotation.PreDestroy;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;

/**
 * The files that were sent, each in a folder of this server until it has gone in, a few newer ones have come, or the
 * server stops. What a killed server has left behind goes at the next start.
 */
@Component
public class Uploads {

    private static final Logger LOG = LoggerFactory.getLogger(Uploads.class);
    private static final int KEPT_PER_CLINIC = 4;

    private final UploadFolder folder;
    private final Map<ClinicId, Deque<Upload>> byClinic = new HashMap<>();

    Uploads() throws IOException {
        folder = UploadFolder.open();
    }

    /** Keeps what {@code in} gives, never holding it in memory. */
    public Upload store(ClinicId clinicId, String fileName, InputStream in) throws IOException {
        UUID id = UUID.randomUUID();
        Path file = folder.file(id);
        long bytes;
        try (OutputStream out = Files.newOutputStream(file)) {
            bytes = in.transferTo(out);
        } catch (IOException | RuntimeException e) {
            Files.deleteIfExists(file);
            throw e;
        }
        Upload upload = new Upload(id, clinicId, fileName, file, bytes);
        synchronized (byClinic) {
            Deque<Upload> kept = byClinic.computeIfAbsent(clinicId, clinic -> new ArrayDeque<>());
            kept.addLast(upload);
            while (kept.size() > KEPT_PER_CLINIC) {
                delete(kept.removeFirst());
            }
        }
        return upload;
    }

    /** A file of that clinic, if it still waits. */
    public Optional<Upload> find(ClinicId clinicId, UUID id) {
        synchronized (byClinic) {
            return byClinic.getOrDefault(clinicId, new ArrayDeque<>()).stream()
                    .filter(upload -> upload.id().equals(id))
                    .findFirst();
        }
    }

    /** Removes a file, from the disk too. */
    public void remove(Upload upload) {
        synchronized (byClinic) {
            Deque<Upload> kept = byClinic.get(upload.clinicId());
            if (kept != null && kept.remove(upload)) {
                delete(upload);
            }
        }
    }

    @PreDestroy
    void close() {
        folder.close();
    }

    private static void delete(Upload upload) {
        try {
            Files.deleteIfExists(upload.file());
        } catch (IOException | UncheckedIOException e) {
            LOG.warn("An uploaded file could not be deleted: {}", e.getClass().getSimpleName());
        }
    }
}
