"""Worked frames of rig/WIRE.md, made apart from the Java code: CRC-32C bit by bit, COBS as in the paper.

Run: python3 worked_frames.py    prints the fenced blocks of section 8 of the page.
"""
import struct

def crc32c(data):
    crc = 0xFFFFFFFF
    for byte in data:
        crc ^= byte
        for _ in range(8):
            crc = (crc >> 1) ^ (0x82F63B78 if crc & 1 else 0)
    return crc ^ 0xFFFFFFFF

def cobs(data):
    out, run = bytearray(), bytearray()
    for i, byte in enumerate(data):
        if byte == 0:
            out += bytes([len(run) + 1]) + run
            run = bytearray()
        else:
            run.append(byte)
            if len(run) == 254 and i + 1 < len(data):
                out += b'\xff' + run
                run = bytearray()
    return bytes(out + bytes([len(run) + 1]) + run)

def text(s):
    b = s.encode()
    return bytes([len(b)]) + b

FRAMES = [
    ("hello 1.1", 0x01, 0, struct.pack('<BB', 1, 1)),
    ("hello 1.0", 0x01, 0, struct.pack('<BB', 1, 0)),
    ("configure 512 Hz, 64 samples a block", 0x02, 1, struct.pack('<IH', 512, 64)),
    ("limits 9 A for 20 ms, average 2 A over 2 s, 6 V to 9 V, 1200 s in an hour, 60 degC", 0x08, 2,
     struct.pack('<IIIIHHIh', 9000, 20, 2000, 2000, 6000, 9000, 1200, 600)),
    ("arm 8.2 V", 0x03, 3, struct.pack('<H', 8200)),
    ("shift request inboard", 0x04, 4, struct.pack('<bB', 1, 0)),
    ("shift request outboard", 0x04, 5, struct.pack('<bB', -1, 0)),
    ("shift request to sprocket 7", 0x04, 6, struct.pack('<bB', 0, 7)),
    ("button contact 1 for 80 ms", 0x05, 7, struct.pack('<BH', 1, 80)),
    ("supply set 7.4 V", 0x06, 8, struct.pack('<H', 7400)),
    ("cut", 0x07, 9, b''),
    ("heartbeat", 0x09, 10, b''),
    ("stop", 0x0A, 0xFFFE, b''),
    ("drive inboard, at most 600 mA and 200 deg/s for 5 s", 0x20, 12, struct.pack('<bHHH', 1, 600, 200, 5000)),
    ("drive: stop now", 0x20, 13, struct.pack('<bHHH', 0, 0, 0, 0)),
    ("identity", 0x81, 0,
     struct.pack('<BBBIIIIH', 1, 0, 0, 4096, 1200, 2500, 4000, 9000)
     + text('bench-two') + text('1.4.0') + text('tarn 2.3')),
    ("identity of a rig that drives, 1.1", 0x81, 0,
     struct.pack('<BBBIIIIH', 1, 1, 1, 4096, 1200, 2500, 4000, 9000)
     + text('bench-two') + text('1.5.0') + text('')),
    ("samples, block 0, two samples at 512 Hz", 0x82, 7,
     struct.pack('<IQIH', 0, 1500000, 1953125, 2) + struct.pack('<8h', 2961, 3365, -1, 3280, 2962, 3362, 3, 3281)),
    ("event request echo inboard, for sequence 4", 0x83, 8, struct.pack('<BQiH', 3, 1734567, 1, 4)),
    ("event supply off by over-current", 0x83, 9, struct.pack('<BQiH', 5, 4294967296, 2, 0xFFFF)),
    ("event drive over, stalled, for sequence 12", 0x83, 12, struct.pack('<BQiH', 24, 7654321, 1, 12)),
    ("acknowledgement of sequence 4", 0x84, 10, struct.pack('<H', 4)),
    ("fault: sequence 11 refused, not armed, in state cut", 0x85, 11, struct.pack('<HBB', 11, 3, 3)),
]

def dump(b):
    h = [f'{x:02x}' for x in b]
    return '\n'.join(('         ' if i else '') + ' '.join(h[i:i + 24]) for i in range(0, len(h), 24))

if __name__ == '__main__':
    assert crc32c(b'123456789') == 0xE3069283
    for name, kind, sequence, payload in FRAMES:
        raw = struct.pack('<BBH', 1, kind, sequence) + payload
        crc = crc32c(raw)
        raw += struct.pack('<I', crc)
        print('```frame')
        print('frame:  ', name)
        print('payload:', dump(payload))
        print(f'crc:     {crc:08x}')
        print('wire:   ', dump(cobs(raw) + b'\0'))
        print('```')
        print()
