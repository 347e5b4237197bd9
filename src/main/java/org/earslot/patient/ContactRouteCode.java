package org.earslot.patient;

import jakarta.persistence.Converter;
import org.earslot.clinic.WordCode;

/** A route in the database. */
@Converter(autoApply = true)
class ContactRouteCode extends WordCode<ContactRoute> {

    ContactRouteCode() {
        super(ContactRoute.values());
    }
}
