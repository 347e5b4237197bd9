/** Pages of referrals, red flags and patients with their search and merging, and their part of the interface for programs. */
@NullMarked
package org.earslot.referral.web;

import org.jspecify.annotations.NullMarked;
