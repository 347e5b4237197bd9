package org.earslot.unchanged;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** The recorded files; {@code -Dunchanged.record=true} writes them instead of comparing. */
final class Recorded {

    private static final Path FOLDER = Path.of("src/test/resources/unchanged");
    private static final boolean RECORD = Boolean.getBoolean("unchanged.record");
    private static final int LEAST_PLACES = 10;

    private Recorded() {}

    static void compare(String file, Recording now) throws IOException {
        assertThat(now.size()).as("places of %s", file).isGreaterThan(LEAST_PLACES);
        Path recorded = FOLDER.resolve(file);
        if (!RECORD) {
            assertThat(Recording.read(recorded).differencesTo(now))
                    .as("what changed in %s", file)
                    .isEmpty();
        } else if (!Files.exists(recorded)
                || !Recording.read(recorded).differencesTo(now).isEmpty()) {
            now.write(recorded);
        }
    }
}
