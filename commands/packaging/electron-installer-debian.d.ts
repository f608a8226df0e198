/** The package comes without types; what is used of it. */
declare module 'electron-installer-debian' {
  export default function installer(input: {
    readonly src: string
    readonly dest: string
    readonly arch: 'amd64' | 'arm64'
    readonly options: Readonly<Record<string, string | readonly string[]>>
  }): Promise<unknown>
}
