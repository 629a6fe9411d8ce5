/**
 * What Chromium 156 (Debian 12) says of a data channel on a machine with one network, once without and once with the
 * permission for the camera, offer and answer. Written down as it came.
 */
export const CHROMIUM_DESCRIPTIONS = {
  named: {
    offer:
      'v=0\r\no=- 8706306519930974787 2 IN IP4 127.0.0.1\r\ns=-\r\nt=0 0\r\na=group:BUNDLE 0\r\na=extmap-allow-mixed\r\na=msid-semantic: WMS\r\nm=application 9 UDP/DTLS/SCTP webrtc-datachannel\r\nc=IN IP4 0.0.0.0\r\na=candidate:3348597012 1 udp 2113937151 b33412af-4903-4d30-a3d1-121055e1213d.local 40343 typ host generation 0 network-cost 999\r\na=candidate:3236292004 1 udp 2113942271 0871d674-fdb5-427e-8c14-0abc914713dc.local 41828 typ host generation 0 network-cost 999\r\na=ice-ufrag:9edt\r\na=ice-pwd:qPHR0urLi1lc4zCE6JhiydV5\r\na=ice-options:trickle\r\na=fingerprint:sha-256 F9:7D:87:DC:A5:D3:33:0E:56:35:73:A2:96:40:FD:6D:BF:B8:94:C9:F3:FA:29:31:08:7E:85:70:92:46:A9:41\r\na=setup:actpass\r\na=mid:0\r\na=sctp-port:5000\r\na=max-message-size:262144\r\n',
    answer:
      'v=0\r\no=- 247260415991810785 2 IN IP4 127.0.0.1\r\ns=-\r\nt=0 0\r\na=group:BUNDLE 0\r\na=extmap-allow-mixed\r\na=msid-semantic: WMS\r\nm=application 9 UDP/DTLS/SCTP webrtc-datachannel\r\nc=IN IP4 0.0.0.0\r\na=candidate:3895808614 1 udp 2113937151 b33412af-4903-4d30-a3d1-121055e1213d.local 34364 typ host generation 0 network-cost 999\r\na=candidate:592679814 1 udp 2113942271 0871d674-fdb5-427e-8c14-0abc914713dc.local 43708 typ host generation 0 network-cost 999\r\na=ice-ufrag:FECR\r\na=ice-pwd:h66GENE8aVZUq2OmMNz/vJum\r\na=ice-options:trickle\r\na=fingerprint:sha-256 29:63:2C:69:09:02:B8:AF:68:54:25:31:7A:C6:9E:C4:2E:AB:7A:7A:89:F9:9D:00:51:B8:0A:A8:1C:91:0C:2F\r\na=setup:active\r\na=mid:0\r\na=sctp-port:5000\r\na=max-message-size:262144\r\n',
  },
  addressed: {
    offer:
      'v=0\r\no=- 2890099164432833696 2 IN IP4 127.0.0.1\r\ns=-\r\nt=0 0\r\na=group:BUNDLE 0\r\na=extmap-allow-mixed\r\na=msid-semantic: WMS\r\nm=application 36084 UDP/DTLS/SCTP webrtc-datachannel\r\nc=IN IP4 192.0.2.2\r\na=candidate:66498040 1 udp 2122194687 192.0.2.2 36084 typ host generation 0 network-id 1\r\na=candidate:3364908056 1 udp 2122265343 fd00::2 57549 typ host generation 0 network-id 2\r\na=candidate:4250696044 1 tcp 1518214911 192.0.2.2 9 typ host tcptype active generation 0 network-id 1\r\na=candidate:909817996 1 tcp 1518285567 fd00::2 9 typ host tcptype active generation 0 network-id 2\r\na=ice-ufrag:su/G\r\na=ice-pwd:rR/P+RzfDmie6JR8Zd3/nM1r\r\na=ice-options:trickle\r\na=fingerprint:sha-256 4E:55:AB:34:F8:4E:97:49:20:D4:EC:4D:AE:A0:CB:44:41:FF:AE:68:FC:F1:62:2F:87:BD:25:39:4B:F8:02:4B\r\na=setup:actpass\r\na=mid:0\r\na=sctp-port:5000\r\na=max-message-size:262144\r\n',
    answer:
      'v=0\r\no=- 4180456842165504108 2 IN IP4 127.0.0.1\r\ns=-\r\nt=0 0\r\na=group:BUNDLE 0\r\na=extmap-allow-mixed\r\na=msid-semantic: WMS\r\nm=application 48867 UDP/DTLS/SCTP webrtc-datachannel\r\nc=IN IP4 192.0.2.2\r\na=candidate:3344884044 1 udp 2122194687 192.0.2.2 48867 typ host generation 0 network-id 1\r\na=candidate:205004972 1 udp 2122265343 fd00::2 60226 typ host generation 0 network-id 2\r\na=ice-ufrag:AHUp\r\na=ice-pwd:5NCefqcCBV+N90WSLLS6qPNd\r\na=ice-options:trickle\r\na=fingerprint:sha-256 D2:0B:7C:5F:AB:90:7E:62:07:C9:FF:92:11:A4:41:AD:C7:EB:AC:DD:72:0C:BC:1A:F3:F8:7A:CB:38:76:3C:4A\r\na=setup:active\r\na=mid:0\r\na=sctp-port:5000\r\na=max-message-size:262144\r\n',
  },
} as const
