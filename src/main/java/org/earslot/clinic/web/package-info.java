/** The set-up page. */
@NullMarked
package org.earslot.clinic.web;

import org.jspecify.annotations.NullMarked;
