package org.earslot.exchange.imports;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.exchange.csv.FileForm;
import org.jspecify.annotations.Nullable;

/** A file that was sent and waits on disk to be read. */
public final class Upload {

    private final UUID id;
    private final ClinicId clinicId;
    private final String fileName;
    private final Path file;
    private final long bytes;
    private volatile @Nullable FileForm form;

    Upload(UUID id, ClinicId clinicId, String fileName, Path file, long bytes) {
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

    /** How the file was read by the latest run; empty before the first. */
    public Optional<FileForm> form() {
        return Optional.ofNullable(form);
    }

    void readAs(FileForm latest) {
        form = latest;
    }

    ClinicId clinicId() {
        return clinicId;
    }

    Path file() {
        return file;
    }
}
