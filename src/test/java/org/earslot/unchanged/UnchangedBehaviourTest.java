package org.earslot.unchanged;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.earslot.testing.Forked;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * While rooms are moved and facts get one owner, nothing that a person, a program or a database sees may change: what
 * they see was recorded, and is compared here. A failure names the page, address or table and the first line that
 * differs. After a change made on purpose, record again, look at what git says has changed, and commit:
 *
 * <pre>mvn test -Dtest='Unchanged*' -Dunchanged.record=true</pre>
 *
 * <p>The recorded files are in {@code src/test/resources/unchanged}; what the last run saw is in {@code
 * target/unchanged}. {@code zdiff} compares the two. This package and its files are to be removed when the rebuilding is
 * done.
 */
class UnchangedBehaviourTest {

    private static final Path NOW = Path.of("target/unchanged");

    @BeforeAll
    static void demo_clinic() throws IOException, InterruptedException {
        try (Forked recorder = Forked.start(List.of("-Xmx1500m"), DemoRecorder.class, NOW.toString())) {
            recorder.await(DemoRecorder.READY);
            assertThat(recorder.exitStatus()).isZero();
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "interface.txt.gz",
                "addresses.txt",
                "estimates.txt.gz",
                "days.txt.gz",
                "offers.txt.gz",
                "bookings.txt.gz",
                "lived.txt.gz",
                "reviews.txt.gz",
                "files.txt.gz",
                "pages.txt.gz"
            })
    void demo_clinic_answers_as_recorded(String file) throws IOException {
        Recorded.compare(file, Recording.read(NOW.resolve(file)));
    }
}
