package org.earslot.page;

import java.util.Optional;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Saves an edit form only if nobody has changed what it shows since it was opened. */
@Component
public class Edits {

    private final TransactionTemplate transaction;

    Edits(PlatformTransactionManager transactions) {
        this.transaction = new TransactionTemplate(transactions);
    }

    /**
     * Compares and changes in one transaction, so that of two who save at the same moment one is refused.
     *
     * @param seen the version that the form carried
     * @param current reads the version as it is now
     * @param change changes the rows
     * @return what {@code change} answered; empty if somebody was faster, and nothing was changed
     */
    public <T extends Object> Optional<T> save(
            @Nullable String seen, Supplier<FormVersion> current, Supplier<T> change) {
        try {
            return Optional.ofNullable(
                    transaction.execute(status -> current.get().isSeen(seen) ? change.get() : null));
        } catch (OptimisticLockingFailureException e) {
            return Optional.empty();
        }
    }
}
