package org.earslot.exchange.imports;

import java.io.OutputStream;
import java.util.List;
import org.earslot.exchange.csv.FieldError;
import org.springframework.stereotype.Component;
import tools.jackson.core.JsonGenerator;
import tools.jackson.databind.json.JsonMapper;

/**
 * Tells programs what came of a run, as JSON: how many lines were rejected, and of the first ones each with its first
 * fault and the others below {@code also}.
 */
@Component
public class RunReport {

    private final JsonMapper json;
    private final Rejections rejections;

    RunReport(JsonMapper json, Rejections rejections) {
        this.json = json;
        this.rejections = rejections;
    }

    /** @param idField what the id of a line is called: {@code visitId} */
    public void write(ImportRun run, String idField, OutputStream to) {
        try (JsonGenerator out = json.createGenerator(to)) {
            out.writeStartObject();
            out.writeNumberProperty("lines", run.lines());
            out.writeNumberProperty("accepted", run.accepted());
            out.writeNumberProperty("repeats", run.repeats());
            out.writeArrayPropertyStart("repeatedLines");
            run.repeatedLines().forEach(line -> out.writeNumber(Long.parseLong(line)));
            out.writeEndArray();
            texts(out, "unknownColumns", run.unknownColumns());
            texts(out, "createdNames", run.createdNames());
            out.writeNumberProperty("rejectedCount", run.rejected());
            out.writeArrayPropertyStart("rejected");
            rejections.eachLine(run.id(), faults -> rejected(out, idField, faults));
            out.writeEndArray();
            out.writeEndObject();
        }
    }

    private static void texts(JsonGenerator out, String name, List<String> texts) {
        out.writeArrayPropertyStart(name);
        texts.forEach(out::writeString);
        out.writeEndArray();
    }

    private static void rejected(JsonGenerator out, String idField, List<Rejection> faults) {
        Rejection first = faults.get(0);
        out.writeStartObject();
        out.writeNumberProperty("line", first.line());
        out.writeStringProperty(idField, first.rowRef());
        fault(out, first.fault());
        if (faults.size() > 1) {
            out.writeArrayPropertyStart("also");
            for (Rejection other : faults.subList(1, faults.size())) {
                out.writeStartObject();
                fault(out, other.fault());
                out.writeEndObject();
            }
            out.writeEndArray();
        }
        out.writeEndObject();
    }

    private static void fault(JsonGenerator out, FieldError fault) {
        out.writeStringProperty("column", fault.column());
        out.writeStringProperty("value", fault.value());
        out.writeStringProperty("reason", fault.reason());
        out.writeStringProperty("remedy", fault.remedy());
    }
}
