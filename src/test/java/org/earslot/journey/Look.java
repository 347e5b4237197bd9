package org.earslot.journey;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import javax.imageio.ImageIO;

/**
 * A picture of a page, every second pixel of it, and two ways to compare it that letters of another font pass: how much of
 * it is of each plain colour, and the mean colour of blocks, each compared with the nearest of its neighbours.
 */
final class Look {

    private static final int SAMPLED = 2;

    /** Pixels of the sample. */
    private static final int BLOCK = 8;

    /** Of 255: more than the letters of another font change, less than another colour does. */
    private static final int LIGHTER = 48;

    private static final int ANOTHER_HUE = 14;
    private static final int NEAR = 3;

    /** Of the picture: less of one colour is letters, or a line. */
    private static final double LITTLE = 0.0015;

    private final BufferedImage sample;
    private final BufferedImage blocks;

    private Look(BufferedImage sample) {
        this.sample = sample;
        blocks = blocks(sample);
    }

    /** @param png a screenshot */
    static Look of(byte[] png) throws IOException {
        BufferedImage picture = ImageIO.read(new ByteArrayInputStream(png));
        BufferedImage sample = new BufferedImage(
                picture.getWidth() / SAMPLED, picture.getHeight() / SAMPLED, BufferedImage.TYPE_INT_RGB);
        for (int x = 0; x < sample.getWidth(); x++) {
            for (int y = 0; y < sample.getHeight(); y++) {
                sample.setRGB(x, y, picture.getRGB(x * SAMPLED, y * SAMPLED));
            }
        }
        return new Look(sample);
    }

    static Look read(Path file) throws IOException {
        return new Look(ImageIO.read(file.toFile()));
    }

    void write(Path file) throws IOException {
        Files.createDirectories(file.getParent());
        ImageIO.write(sample, "png", file.toFile());
    }

    private static BufferedImage blocks(BufferedImage sample) {
        BufferedImage blocks =
                new BufferedImage(sample.getWidth() / BLOCK, sample.getHeight() / BLOCK, BufferedImage.TYPE_INT_RGB);
        for (int x = 0; x < blocks.getWidth(); x++) {
            for (int y = 0; y < blocks.getHeight(); y++) {
                blocks.setRGB(x, y, mean(sample.getRGB(x * BLOCK, y * BLOCK, BLOCK, BLOCK, null, 0, BLOCK)));
            }
        }
        return blocks;
    }

    private static int mean(int[] pixels) {
        int red = IntStream.of(pixels).map(rgb -> rgb >> 16 & 255).sum() / pixels.length;
        int green = IntStream.of(pixels).map(rgb -> rgb >> 8 & 255).sum() / pixels.length;
        int blue = IntStream.of(pixels).map(rgb -> rgb & 255).sum() / pixels.length;
        return red << 16 | green << 8 | blue;
    }

    /** The colour whose area differs most, as a share of the larger of the two areas: 0 is alike, 1 found in one only. */
    double areaUnlike(Look other) {
        Map<Integer, Integer> here = areas();
        Map<Integer, Integer> there = other.areas();
        double little = LITTLE * sample.getWidth() * sample.getHeight();
        return Stream.concat(here.keySet().stream(), there.keySet().stream())
                .distinct()
                .mapToDouble(colour -> {
                    int one = here.getOrDefault(colour, 0);
                    int two = there.getOrDefault(colour, 0);
                    return Math.max(one, two) < little ? 0 : Math.abs(one - two) / (double) Math.max(one, two);
                })
                .max()
                .orElse(0);
    }

    private Map<Integer, Integer> areas() {
        int[] all = sample.getRGB(0, 0, sample.getWidth(), sample.getHeight(), null, 0, sample.getWidth());
        return IntStream.of(all).boxed().collect(Collectors.toMap(rgb -> rgb & 0xffffff, rgb -> 1, Integer::sum));
    }

    /** How many blocks of this picture have nothing like them near the same place of another; all if sizes differ. */
    int blocksUnlike(Look other) {
        if (blocks.getWidth() != other.blocks.getWidth() || blocks.getHeight() != other.blocks.getHeight()) {
            return blocks.getWidth() * blocks.getHeight();
        }
        int unlike = 0;
        for (int x = 0; x < blocks.getWidth(); x++) {
            for (int y = 0; y < blocks.getHeight(); y++) {
                unlike += other.hasNear(x, y, new Color(blocks.getRGB(x, y))) ? 0 : 1;
            }
        }
        return unlike;
    }

    private boolean hasNear(int x, int y, Color colour) {
        for (int i = Math.max(0, x - NEAR); i <= Math.min(blocks.getWidth() - 1, x + NEAR); i++) {
            for (int j = Math.max(0, y - NEAR); j <= Math.min(blocks.getHeight() - 1, y + NEAR); j++) {
                if (isLike(new Color(blocks.getRGB(i, j)), colour)) {
                    return true;
                }
            }
        }
        return false;
    }

    /** Alike in lightness, and in hue: how far red and blue are from green. */
    private static boolean isLike(Color one, Color other) {
        return Math.abs(one.getGreen() - other.getGreen()) <= LIGHTER
                && Math.abs(one.getRed() - one.getGreen() - other.getRed() + other.getGreen()) <= ANOTHER_HUE
                && Math.abs(one.getBlue() - one.getGreen() - other.getBlue() + other.getGreen()) <= ANOTHER_HUE;
    }
}
