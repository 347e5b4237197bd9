/** Pages and paths of referrals and patients. */
@NullMarked
package org.earslot.referral.web;

import org.jspecify.annotations.NullMarked;
