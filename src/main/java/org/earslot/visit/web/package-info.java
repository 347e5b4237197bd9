/** Pages and programs' paths of the visit log and of imports. */
@NullMarked
package org.earslot.visit.web;

import org.jspecify.annotations.NullMarked;
