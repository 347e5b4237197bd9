/**
 * A clinic's working days, lived against the packaged program: people and programs act as they would, and after each step
 * every screen must tell the same and nothing acknowledged may be missing.
 */
@NullMarked
package org.earslot.lived;

import org.jspecify.annotations.NullMarked;
