/** Signing in, the pages of accounts and of the audit trail. */
@NullMarked
package org.earslot.account.web;

import org.jspecify.annotations.NullMarked;
