package org.earslot.referral.web;

import jakarta.validation.constraints.NotNull;
import org.earslot.page.PlainText;

/** Why something is done. */
record ReasonForm(
        @NotNull(message = "{referral.allowed.reason}") @PlainText(max = 500)
        String reason) {}
