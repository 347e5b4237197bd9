/** Pages of referrals and red flags, and their part of the interface for programs. */
@NullMarked
package org.earslot.referral.web;

import org.jspecify.annotations.NullMarked;
