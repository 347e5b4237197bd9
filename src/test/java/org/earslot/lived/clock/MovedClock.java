package org.earslot.lived.clock;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Primary;

/**
 * A clock that another process moves: it runs on from an offset to the machine's clock that stands in a file of eight
 * bytes (milliseconds, big-endian), shared in memory, so that a move counts at once.
 */
public final class MovedClock extends Clock {

    /** The setting that names the file; without it nothing here is used. */
    public static final String FILE = "earslot.lived.clock";

    private final ByteBuffer offset;
    private final ZoneId zone;

    private MovedClock(ByteBuffer offset, ZoneId zone) {
        this.offset = offset;
        this.zone = zone;
    }

    /** A clock on {@code file}, which is made if need be. */
    public static MovedClock on(Path file) throws IOException {
        try (RandomAccessFile shared = new RandomAccessFile(file.toFile(), "rw")) {
            return new MovedClock(
                    shared.getChannel().map(FileChannel.MapMode.READ_WRITE, 0, Long.BYTES), ZoneOffset.UTC);
        }
    }

    /** From now on it is {@code now}, here and in every process that shares the file. */
    public void moveTo(Instant now) {
        offset.putLong(0, now.toEpochMilli() - System.currentTimeMillis());
    }

    @Override
    public Instant instant() {
        return Instant.ofEpochMilli(System.currentTimeMillis() + offset.getLong(0));
    }

    @Override
    public ZoneId getZone() {
        return zone;
    }

    @Override
    public Clock withZone(ZoneId other) {
        return new MovedClock(offset, other);
    }

    /** Puts it in the place of the program's own clock. */
    @Configuration
    @ConditionalOnProperty(FILE)
    static class Bringing {
        @Bean
        @Primary
        MovedClock movedClock(@Value("${" + FILE + "}") Path file) throws IOException {
            return on(file);
        }
    }
}
