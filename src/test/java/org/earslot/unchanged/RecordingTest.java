package org.earslot.unchanged;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A difference is found and its place named, be it a letter, a line, a page too few or too many. */
class RecordingTest {

    @Test
    void the_same_does_not_differ() {
        assertThat(two("one\ntwo").differencesTo(two("one\ntwo"))).isEmpty();
    }

    @Test
    void a_changed_line_is_named() {
        assertThat(two("one\n21.4 minutes\nthree").differencesTo(two("one\n21.5 minutes\nthree")))
                .singleElement()
                .asString()
                .startsWith("/day, line 2:")
                .contains("was 21.4 minutes", "is  21.5 minutes");
    }

    @Test
    void a_missing_and_an_added_line_are_named() {
        assertThat(two("one\ntwo").differencesTo(two("one")))
                .singleElement()
                .asString()
                .contains("/day, line 2", "was two", "is  (the end)");
        assertThat(two("one").differencesTo(two("one\ntwo")))
                .singleElement()
                .asString()
                .contains("/day, line 2", "was (the end)", "is  two");
    }

    @Test
    void a_place_that_is_gone_or_new_is_named() {
        Recording more = two("one");
        more.add("/kit", "a kit");
        assertThat(more.differencesTo(two("one"))).containsExactly("/kit: is gone");
        assertThat(two("one").differencesTo(more)).containsExactly("/kit: is new");
    }

    @Test
    void many_differences_are_counted() {
        Recording before = new Recording();
        Recording now = new Recording();
        for (int i = 0; i < 100; i++) {
            before.add("/page/" + i, "before");
            now.add("/page/" + i, "now");
        }
        assertThat(before.differencesTo(now)).hasSize(13).last().isEqualTo("and 88 more places");
    }

    @Test
    void no_place_hides_another() {
        Recording recording = two("one");
        assertThatThrownBy(() -> recording.add("/day", "other")).hasMessageContaining("/day");
    }

    @Test
    void comes_back_from_its_file(@TempDir Path folder) throws IOException {
        for (String name : new String[] {"plain.txt", "packed.txt.gz"}) {
            Recording recording = two("one\n\n=== not a place\n  three");
            recording.write(folder.resolve(name));
            Recording read = Recording.read(folder.resolve(name));
            assertThat(read.size()).isEqualTo(2);
            assertThat(recording.differencesTo(read)).isEmpty();
        }
    }

    private static Recording two(String text) {
        Recording recording = new Recording();
        recording.add("/", "first page");
        recording.add("/day", text);
        return recording;
    }
}
