package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.test.context.DynamicPropertyRegistry;
import org.springframework.test.context.DynamicPropertySource;
import org.springframework.test.web.servlet.MockMvc;

/** The database's file is its owner's alone, and a copy made while the program runs can be restored. */
class BackupTest {

    @Nested
    @SpringBootTest
    @AutoConfigureMockMvc
    class H2Test {

        @TempDir
        private static Path folder;

        @Autowired
        private MockMvc mvc;

        @Autowired
        private TestClinics clinics;

        @DynamicPropertySource
        static void inAFile(DynamicPropertyRegistry settings) {
            settings.add("spring.datasource.url", () -> "jdbc:h2:file:" + folder.resolve("data/clinic"));
        }

        @Test
        void a_copy_made_while_the_program_runs_is_restored_by_unpacking_it() throws Exception {
            ClinicId clinic = clinics.open().id();
            Path copy = Path.of(mvc.perform(post("/setup/backup").with(csrf()).with(SignedIn.lead(clinic)))
                    .andReturn()
                    .getFlashMap()
                    .get("made")
                    .toString());
            clinics.open();

            Path restored = Files.createDirectory(folder.resolve("restored"));
            unpack(copy, restored);
            try (Connection connection =
                            DriverManager.getConnection("jdbc:h2:file:" + restored.resolve("clinic"), "sa", "");
                    ResultSet found = connection.createStatement().executeQuery("select id from clinic")) {
                assertThat(found.next()).isTrue();
                assertThat(found.getObject(1, UUID.class)).isEqualTo(clinic.value());
                assertThat(found.next()).as("a clinic opened after the copy").isFalse();
            }
        }

        @Test
        @DisabledOnOs(OS.WINDOWS)
        void folder_file_and_copies_are_readable_by_their_owner_alone() throws Exception {
            mvc.perform(post("/setup/backup")
                    .with(csrf())
                    .with(SignedIn.lead(clinics.open().id())));
            Path data = folder.resolve("data");
            assertThat(rights(data)).isEqualTo("rwx------");
            try (Stream<Path> files = Files.list(data)) {
                List<Path> all = files.toList();
                assertThat(all).hasSizeGreaterThanOrEqualTo(2);
                assertThat(all).allSatisfy(file -> assertThat(rights(file)).isEqualTo("rw-------"));
            }
        }

        private static String rights(Path path) throws IOException {
            return PosixFilePermissions.toString(Files.getPosixFilePermissions(path));
        }

        private static void unpack(Path archive, Path to) throws IOException {
            try (InputStream in = Files.newInputStream(archive);
                    ZipInputStream zip = new ZipInputStream(in)) {
                for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                    Files.copy(zip, to.resolve(Path.of(entry.getName()).getFileName()));
                }
            }
        }
    }

    @Nested
    @SpringBootTest
    class EncryptedTest {

        @TempDir
        private static Path folder;

        @Autowired
        private TestClinics clinics;

        @DynamicPropertySource
        static void inAnEncryptedFile(DynamicPropertyRegistry settings) {
            settings.add(
                    "spring.datasource.url", () -> "jdbc:h2:file:" + folder.resolve("data/clinic") + ";CIPHER=AES");
            settings.add("spring.datasource.password", () -> "of-the-file of-the-user");
        }

        @Test
        void the_file_can_be_encrypted_by_the_database_itself() throws Exception {
            clinics.open();
            String text = Files.readString(folder.resolve("data/clinic.mv.db"), StandardCharsets.ISO_8859_1);
            assertThat(text).startsWith("H2encrypt").doesNotContain("Test clinic");
        }
    }

    @Nested
    @PageTestOnPostgres
    class PostgresTest {

        @Autowired
        private MockMvc mvc;

        @Autowired
        private TestClinics clinics;

        @Test
        void the_page_names_the_means_of_the_database_instead() throws Exception {
            ClinicId clinic = clinics.open().id();
            String page = mvc.perform(get("/setup/backup").with(SignedIn.lead(clinic)))
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
            assertThat(page).contains("pg_dump").doesNotContain(">Make a copy");
            Map<String, Object> told = mvc.perform(
                            post("/setup/backup").with(csrf()).with(SignedIn.lead(clinic)))
                    .andReturn()
                    .getFlashMap();
            assertThat(told.get("made")).isNull();
        }
    }
}
