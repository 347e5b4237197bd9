package org.earslot.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;

/**
 * Rewrites the files of the demo clinic from {@code clinic.json}: run it after a change to that file or to the invented
 * truth. Chance is seeded, so without a change the files come out as they are.
 */
final class SeedDemoWriter {

    private SeedDemoWriter() {}

    /** The one optional argument is the folder, {@code seed-demo} where absent. */
    public static void main(String[] folderName) throws IOException {
        Path folder = Path.of(folderName.length == 0 ? "seed-demo" : folderName[0]);
        for (Map.Entry<String, String> file :
                SeedDemo.files(ClinicFile.read(folder)).entrySet()) {
            Files.writeString(folder.resolve(file.getKey()), file.getValue());
        }
    }
}
