package org.shiftstand.link;

/**
 * Who may open a port.
 *
 * @param owner of the device file
 * @param group of the device file
 * @param groupMay whether members of the group may read and write
 * @param thisUserMay whether the user of this process may, as the system says
 * @param memberSince whether the system's list of groups has this user in the group; where that is so and the user still may
 *     not, they have to log in again
 */
public record PortAccess(String owner, String group, boolean groupMay, boolean thisUserMay, boolean memberSince) {}
