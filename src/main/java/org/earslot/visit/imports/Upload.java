package org.earslot.visit.imports;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.UUID;

/** A file that was sent and waits on disk to be read. */
public final class Upload {

    private final UUID id;
    private final UUID clinicId;
    private final String fileName;
    private final Path file;
    private final long bytes;

    Upload(UUID id, UUID clinicId, String fileName, Path file, long bytes) {
        this.id = id;
        this.clinicId = clinicId;
        this.fileName = fileName;
        this.file = file;
        this.bytes = bytes;
    }

    public UUID id() {
        return id;
    }

    public String fileName() {
        return fileName;
    }

    public long bytes() {
        return bytes;
    }

    /** Opens the file to be read from its beginning. */
    public InputStream open() throws IOException {
        return Files.newInputStream(file);
    }

    UUID clinicId() {
        return clinicId;
    }

    Path file() {
        return file;
    }
}
