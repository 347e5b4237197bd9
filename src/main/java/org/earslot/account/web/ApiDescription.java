package org.earslot.account.web;

import io.swagger.v3.oas.models.OpenAPI;
import io.swagger.v3.oas.models.Operation;
import io.swagger.v3.oas.models.PathItem;
import io.swagger.v3.oas.models.info.Info;
import io.swagger.v3.oas.models.media.ArraySchema;
import io.swagger.v3.oas.models.media.Content;
import io.swagger.v3.oas.models.media.IntegerSchema;
import io.swagger.v3.oas.models.media.MediaType;
import io.swagger.v3.oas.models.media.ObjectSchema;
import io.swagger.v3.oas.models.media.Schema;
import io.swagger.v3.oas.models.media.StringSchema;
import io.swagger.v3.oas.models.parameters.HeaderParameter;
import io.swagger.v3.oas.models.responses.ApiResponse;
import io.swagger.v3.oas.models.security.SecurityRequirement;
import io.swagger.v3.oas.models.security.SecurityScheme;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.earslot.page.Messages;
import org.springdoc.core.customizers.OpenApiCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.io.ClassPathResource;
import tools.jackson.databind.json.JsonMapper;

/** Says in the description of the interface what holds for every address: the key, the errors, the meaning of fields. */
@Configuration
class ApiDescription {

    private static final String KEY = "key";
    private static final String PROBLEM = "Problem";
    private static final String PROBLEM_SCHEMA = "#/components/schemas/" + PROBLEM;
    private static final List<String> ALWAYS = List.of("400", "401", "403", "404", "503");
    private static final List<String> OF_CHANGES = List.of("409", "413", "415", "422");

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final Messages messages;

    ApiDescription(Messages messages) {
        this.messages = messages;
    }

    @Bean
    OpenApiCustomizer whatHoldsForEveryAddress() {
        return api -> {
            api.info(new Info().title("Earslot").version("v1").description(messages.say("api.about")));
            api.getComponents()
                    .addSecuritySchemes(
                            KEY,
                            new SecurityScheme()
                                    .type(SecurityScheme.Type.HTTP)
                                    .scheme("basic")
                                    .description(messages.say("api.security")));
            api.addSecurityItem(new SecurityRequirement().addList(KEY));
            api.getComponents().addSchemas(PROBLEM, problem());
            api.getPaths().forEach((path, item) -> {
                describe(item);
                item.readOperationsMap().forEach((method, operation) -> example(path, method, operation));
            });
            describeFields(api);
        };
    }

    private void describe(PathItem path) {
        path.readOperationsMap().forEach((method, operation) -> {
            messages.find(String.valueOf(operation.getSummary())).ifPresent(operation::setSummary);
            ALWAYS.forEach(status -> error(operation, status));
            if (method != PathItem.HttpMethod.GET) {
                OF_CHANGES.forEach(status -> error(operation, status));
            }
            if (method == PathItem.HttpMethod.PATCH) {
                List.of("412", "428").forEach(status -> error(operation, status));
            }
            if (method == PathItem.HttpMethod.POST) {
                operation.addParametersItem(new HeaderParameter()
                        .name(IdempotentRequests.KEY)
                        .description(messages.say("api.idempotencyKey"))
                        .schema(new StringSchema().minLength(1).maxLength(200)));
            }
        });
    }

    /** Examples are files named after their addresses. */
    private static void example(String path, PathItem.HttpMethod method, Operation operation) {
        String name = (method + path.replace("/api/v1", ""))
                .toLowerCase(Locale.ROOT)
                .replaceAll("[^a-z]+", "-")
                .replaceAll("-$", "");
        ClassPathResource file = new ClassPathResource("/api-examples/" + name + ".json");
        if (file.exists() && operation.getRequestBody() != null) {
            try {
                Object example = JSON.readValue(file.getContentAsString(StandardCharsets.UTF_8), Map.class);
                operation.getRequestBody().getContent().values().forEach(content -> content.setExample(example));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    private void error(Operation operation, String status) {
        operation
                .getResponses()
                .addApiResponse(
                        status,
                        new ApiResponse()
                                .description(messages.say("api.error." + status))
                                .content(new Content()
                                        .addMediaType(
                                                "application/problem+json",
                                                new MediaType().schema(new Schema<>().$ref(PROBLEM_SCHEMA)))));
    }

    private static Schema<?> problem() {
        Schema<?> field = new ObjectSchema()
                .addProperty("field", new StringSchema())
                .addProperty("given", new StringSchema())
                .addProperty("allowed", new StringSchema())
                .addProperty("remedy", new StringSchema());
        return new ObjectSchema()
                .addProperty("type", new StringSchema())
                .addProperty("title", new StringSchema())
                .addProperty("status", new IntegerSchema())
                .addProperty("detail", new StringSchema())
                .addProperty("code", new StringSchema())
                .addProperty("problems", new ArraySchema().items(field))
                .addProperty("appointment", new StringSchema().format("uuid"))
                .addProperty("reference", new StringSchema());
    }

    /** A field of one name means the same wherever it occurs, unless its schema has words of its own. */
    private void describeFields(OpenAPI api) {
        api.getComponents().getSchemas().forEach((name, schema) -> describe(name, schema));
    }

    @SuppressWarnings({"rawtypes", "unchecked"})
    private void describe(String name, Schema schema) {
        Map<String, Schema> properties = schema.getProperties();
        if (properties == null) {
            return;
        }
        properties.forEach((field, property) -> {
            if (property.getDescription() == null) {
                messages.find("api.field." + name + "." + field)
                        .or(() -> messages.find("api.field." + field))
                        .ifPresent(property::setDescription);
            }
            if (property.getItems() != null) {
                describe(name, property.getItems());
            }
        });
    }
}
