package org.earslot.account;

import jakarta.persistence.AttributeConverter;
import jakarta.persistence.Converter;

/** Keeps a role in the database by its code. */
@Converter(autoApply = true)
class RoleCode implements AttributeConverter<Role, String> {

    @Override
    public String convertToDatabaseColumn(Role role) {
        return role.code();
    }

    @Override
    public Role convertToEntityAttribute(String code) {
        return Role.of(code).orElseThrow(() -> new IllegalStateException("unknown role " + code));
    }
}
