package org.earslot.account;

import java.util.HashMap;
import java.util.Map;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.RecordNames;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The names by which people and programs sign in. */
@Component
class AccountRecordNames implements RecordNames {

    private final Accounts accounts;
    private final IntegrationKeys programs;

    AccountRecordNames(Accounts accounts, IntegrationKeys programs) {
        this.accounts = accounts;
        this.programs = programs;
    }

    @Override
    @Transactional(readOnly = true)
    public Map<String, String> of(ClinicId clinicId) {
        Map<String, String> names = new HashMap<>();
        accounts.findByClinicIdOrderBySignInName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.signInName()));
        programs.findByClinicIdOrderByName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.name()));
        return names;
    }
}
