package org.earslot.exchange.web;

import io.swagger.v3.oas.models.OpenAPI;
import io.swagger.v3.oas.models.media.ArraySchema;
import io.swagger.v3.oas.models.media.Content;
import io.swagger.v3.oas.models.media.IntegerSchema;
import io.swagger.v3.oas.models.media.MediaType;
import io.swagger.v3.oas.models.media.ObjectSchema;
import io.swagger.v3.oas.models.media.Schema;
import io.swagger.v3.oas.models.media.StringSchema;
import io.swagger.v3.oas.models.parameters.RequestBody;
import java.util.List;
import org.earslot.ear.Word;
import org.earslot.exchange.BookingColumn;
import org.earslot.exchange.VisitColumn;
import org.earslot.exchange.csv.CellType;
import org.earslot.exchange.csv.Column;
import org.springdoc.core.customizers.OpenApiCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** Lists in the description of the interface the columns of the files that programs send, with what their cells hold. */
@Configuration
class ApiColumns {

    @Bean
    OpenApiCustomizer columnsOfFiles() {
        return api -> {
            describe(api, "/api/v1/visit-log", VisitColumn.values());
            describe(api, "/api/v1/bookings", BookingColumn.values());
        };
    }

    private static void describe(OpenAPI api, String path, Column<?>... columns) {
        Schema<?> row = new ObjectSchema();
        for (Column<?> column : columns) {
            row.addProperty(column.heading(), cell(column.type()));
        }
        row.setRequired(Column.required(columns));
        Content file = new Content().addMediaType("text/csv", new MediaType().schema(new ArraySchema().items(row)));
        api.getPaths()
                .get(path)
                .getPost()
                .setRequestBody(new RequestBody().required(true).content(file));
    }

    private static Schema<?> cell(CellType<?> type) {
        List<String> codes = type.words().stream().map(Word::code).toList();
        return switch (type.shape()) {
            case TEXT -> new StringSchema();
            case WORD -> new StringSchema()._enum(codes);
            case WORDS -> {
                String word = "(" + String.join("|", codes) + ")";
                yield new StringSchema().pattern("^(" + word + "(;" + word + ")*)?$");
            }
            case WHOLE -> new IntegerSchema();
            case DATE -> new StringSchema().format("date");
            case TIME -> new StringSchema().pattern("^([01][0-9]|2[0-3]):[0-5][0-9]$");
        };
    }
}
