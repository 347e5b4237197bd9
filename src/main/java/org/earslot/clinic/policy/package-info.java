/** The clinic's terms: costs, accepted late ends, slot lengths, each change a version. */
@NamedInterface("policy")
@NullMarked
package org.earslot.clinic.policy;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
