import '@fontsource-variable/source-sans-3/wght.css'
import { mount } from 'svelte'
import App from './App.svelte'
import Pair from './devices/Pair.svelte'
import { isOnDevice } from './devices/post-call.ts'
import { pressWhereItBegan } from './press-where-it-began.ts'

const target = document.getElementById('app')
if (target === null) throw new Error('The page has no place for the app.')
pressWhereItBegan()
mount(isOnDevice && location.hash.startsWith('#/pair') ? Pair : App, { target })
