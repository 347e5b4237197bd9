package org.earslot.flow.chance;

import java.util.ArrayList;
import java.util.List;

/** Densities that begin with a jump: those with the same edge summed, of too many edges the slightest weighted away. */
final class DensityJumps {

    /** Parts kept apart for their edges. */
    private static final int MOST = 3;

    private static final double SAME = MixedDistribution.SAME;

    private final List<ContinuousPart> edged = new ArrayList<>(4);

    void add(ContinuousPart beginning) {
        edged.add(beginning);
    }

    /**
     * All parts, and what fades.
     *
     * @param tail what may be cut off either end of what fades
     */
    List<ContinuousPart> with(DensitySum fading, double tail) {
        if (edged.isEmpty()) {
            return fading.parts(tail);
        }
        List<ContinuousPart> parts = united();
        if (parts.size() > MOST) {
            parts.sort((a, b) -> Double.compare(b.sum(), a.sum()));
        }
        while (parts.size() > MOST) {
            ContinuousPart slight = parts.remove(parts.size() - 1);
            fading.add(slight.first, slight.weighted(), 1);
        }
        parts.addAll(fading.parts(tail));
        return parts;
    }

    private List<ContinuousPart> united() {
        List<ContinuousPart> united = new ArrayList<>(edged.size() + 1);
        for (int i = 0; i < edged.size(); i++) {
            ContinuousPart next = edged.get(i);
            if (!isAnEarlierOnes(i)) {
                united.add(sumFrom(i, next));
            }
        }
        return united;
    }

    private boolean isAnEarlierOnes(int i) {
        for (int k = 0; k < i; k++) {
            if (Math.abs(edged.get(k).edge - edged.get(i).edge) <= SAME) {
                return true;
            }
        }
        return false;
    }

    private ContinuousPart sumFrom(int i, ContinuousPart next) {
        DensitySum same = null;
        for (int k = i + 1; k < edged.size(); k++) {
            ContinuousPart other = edged.get(k);
            if (Math.abs(other.edge - next.edge) <= SAME) {
                if (same == null) {
                    same = new DensitySum();
                    same.add(next.first, next.p, 1);
                }
                same.add(other.first, other.p, 1);
            }
        }
        return same == null ? next : ContinuousPart.from(next.edge, same.values());
    }
}
