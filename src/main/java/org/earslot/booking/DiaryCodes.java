package org.earslot.booking;

import jakarta.persistence.AttributeConverter;
import jakarta.persistence.Converter;
import org.jspecify.annotations.Nullable;

/** Keeps the diary's words in the database by their codes. */
final class DiaryCodes {

    private DiaryCodes() {}

    @Converter(autoApply = true)
    static class StatusCode implements AttributeConverter<@Nullable AppointmentStatus, @Nullable String> {

        @Override
        public @Nullable String convertToDatabaseColumn(@Nullable AppointmentStatus status) {
            return status == null ? null : status.code();
        }

        @Override
        public @Nullable AppointmentStatus convertToEntityAttribute(@Nullable String code) {
            return code == null ? null : AppointmentStatus.of(code).orElseThrow();
        }
    }

    @Converter(autoApply = true)
    static class CancelledByCode implements AttributeConverter<@Nullable CancelledBy, @Nullable String> {

        @Override
        public @Nullable String convertToDatabaseColumn(@Nullable CancelledBy by) {
            return by == null ? null : by.code();
        }

        @Override
        public @Nullable CancelledBy convertToEntityAttribute(@Nullable String code) {
            return code == null ? null : CancelledBy.of(code).orElseThrow();
        }
    }
}
