package org.earslotbroken.lower;

import org.springframework.stereotype.Component;

/** Takes more collaborators than anybody can know. */
@Component
public class CrowdedRoom {
    CrowdedRoom(String a, String b, String c, String d, String e, String f, String g, String h) {}
}
