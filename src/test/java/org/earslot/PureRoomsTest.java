package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.DiagnosticCollector;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileObject;
import javax.tools.SimpleJavaFileObject;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The pure rooms compile alone, with nothing but their own libraries on the path. */
class PureRoomsTest {

    private static final List<String> ROOMS = List.of("ear", "minutes", "duration", "flow");
    private static final List<String> LIBRARIES = List.of("hipparchus-core", "jspecify", "spring-modulith-api");
    private static final Path SOURCES = Path.of("src/main/java/org/earslot");

    @TempDir
    private Path compiled;

    @Test
    void compile_without_spring_and_without_a_database() throws IOException {
        List<Path> sources = new ArrayList<>();
        for (String room : ROOMS) {
            List<Path> found = sourcesOf(room);
            assertThat(found).as(room).hasSizeGreaterThan(1);
            sources.addAll(found);
        }
        assertThat(problems(List.of(), sources)).isEmpty();
    }

    @Test
    void fails_for_a_pure_room_that_leans_on_spring() throws IOException {
        String code = "package org.earslot.minutes; @org.springframework.stereotype.Service class Leaning {}";
        JavaFileObject leaning =
                new SimpleJavaFileObject(URI.create("string:///Leaning.java"), JavaFileObject.Kind.SOURCE) {
                    @Override
                    public CharSequence getCharContent(boolean ignoreEncodingErrors) {
                        return code;
                    }
                };
        assertThat(problems(List.of(leaning), sourcesOf("minutes"))).anyMatch(text -> text.contains("stereotype"));
    }

    private static List<Path> sourcesOf(String room) throws IOException {
        try (Stream<Path> files = Files.walk(SOURCES.resolve(room))) {
            return files.filter(file -> file.toString().endsWith(".java")).toList();
        }
    }

    private List<String> problems(List<JavaFileObject> more, List<Path> sources) throws IOException {
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        DiagnosticCollector<JavaFileObject> found = new DiagnosticCollector<>();
        String path = Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
                .filter(entry -> LIBRARIES.stream()
                        .anyMatch(library ->
                                Path.of(entry).getFileName().toString().startsWith(library)))
                .collect(Collectors.joining(File.pathSeparator));
        assertThat(path.split(File.pathSeparator)).hasSameSizeAs(LIBRARIES);
        try (StandardJavaFileManager files = compiler.getStandardFileManager(found, null, null)) {
            List<JavaFileObject> units = new ArrayList<>(more);
            files.getJavaFileObjectsFromPaths(sources).forEach(units::add);
            List<String> options = List.of("--release", "17", "-proc:none", "-cp", path, "-d", compiled.toString());
            compiler.getTask(null, files, found, options, null, units).call();
        }
        return found.getDiagnostics().stream()
                .filter(problem -> problem.getKind() == javax.tools.Diagnostic.Kind.ERROR)
                .map(Object::toString)
                .toList();
    }
}
