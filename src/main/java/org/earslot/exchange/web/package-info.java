/** Pages and interface for programs of {@code exchange}. */
@NullMarked
package org.earslot.exchange.web;

import org.jspecify.annotations.NullMarked;
