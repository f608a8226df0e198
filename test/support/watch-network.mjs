import { subscribe } from 'node:diagnostics_channel'

// Loaded before a program of the tests: says on the error stream of every connection that the program opens and every
// datagram socket that it makes. A server that listens opens none.
subscribe('net.client.socket', () => console.error('NETWORK: a connection was opened'))
subscribe('udp.socket', () => console.error('NETWORK: a datagram socket was made'))
