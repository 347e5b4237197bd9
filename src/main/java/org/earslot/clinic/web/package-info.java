/** The set-up pages, the copy of the database, and the reference part of the interface for programs. */
@NullMarked
package org.earslot.clinic.web;

import org.jspecify.annotations.NullMarked;
