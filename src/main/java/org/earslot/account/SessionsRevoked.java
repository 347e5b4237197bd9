package org.earslot.account;

import org.jspecify.annotations.Nullable;

/**
 * What a person may do has changed, so that every open session of theirs must end.
 *
 * @param exceptSession the one session that goes on
 */
record SessionsRevoked(String signInName, @Nullable String exceptSession) {}
