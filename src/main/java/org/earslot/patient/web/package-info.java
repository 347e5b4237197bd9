/** Pages of {@code patient}. */
@NamedInterface("web")
@NullMarked
package org.earslot.patient.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
